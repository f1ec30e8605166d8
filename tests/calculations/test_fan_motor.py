"""The five wires of a fan motor, in the order in which each depends on the one before."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calculations import fan_motor
from assistant.calculations.errors import Inconsistent, OutOfRange
from assistant.calculations.found import Found
from assistant.calculations.uncertainty import Accuracy, Metered
from tests.calculations.checks import library, pint_registry, property_of

MOTOR: dict[str, Any] = {
    "expected_supply_v": 325,
    "expected_control_v": 15,
    "command_low_v": 1.0,
    "command_high_v": 6.5,
    "pulses_per_turn": 4,
    "speed_low_rpm": 300,
    "speed_high_rpm": 1200,
}
METER = Accuracy(0.8, 0.1)


def judge(supply: float, control: float, command: float, turning: bool, pulses: float | None, **motor: Any) -> Found:
    """All five wires on one meter."""
    feedback = None if pulses is None else Metered(pulses, Accuracy(0.1))
    volts = [Metered(value, METER, "meter") for value in (supply, control, command)]
    return fan_motor.judge_fan_motor(volts[0], turning, control=volts[1], command=volts[2], pulses=feedback, **motor)


@pytest.mark.parametrize(
    ("readings", "outcome"),
    [
        ((325, 15.0, 3.0, True, 53.0), "ok"),
        ((325, 15.0, 3.0, True, None), "ok"),
        ((4, 0.1, 0.0, False, None), "no-supply"),
        ((34, 15.0, 3.0, False, None), "no-supply"),
        ((325, 2.0, 0.0, False, None), "no-control"),
        ((325, 15.0, 0.1, False, None), "no-command"),
        ((325, 15.0, 3.0, False, 0.0), "not-turning"),
        ((325, 15.0, 3.0, True, 0.0), "no-feedback"),
        ((325, 15.0, 3.0, True, 8.0), "off-speed"),
    ],
)
def test_the_first_wire_that_fails_names_the_fault(readings: tuple[Any, ...], outcome: str) -> None:
    found = judge(*readings, **MOTOR)
    assert found.outcome == outcome
    assert sum(found.chances.values()) == pytest.approx(1)


def test_a_motor_of_unknown_voltage_is_not_condemned_for_its_supply() -> None:
    """Without the motor's value: the rectified line is enough, nothing is nothing, between them its label tells."""
    unknown = {"command_low_v": 1.0, "line_v": 230}
    assert judge(320, 0, 3, False, None, **unknown).outcome == "not-turning"
    low_voltage = judge(34, 0, 3, False, None, **unknown)
    assert (low_voltage.outcome, low_voltage.verdict) == ("unknown-supply", "undecided")
    assert judge(3, 0, 3, False, None, **unknown).outcome == "no-supply"
    assert judge(158, 0, 3, False, None, command_low_v=1.0, line_v=120).outcome == "not-turning"


def test_pulses_from_a_fan_at_rest_are_refused() -> None:
    with pytest.raises(Inconsistent, match="does not turn"):
        judge(325, 15, 3, False, 53.0, **MOTOR)
    with pytest.raises(OutOfRange, match="supply voltage"):
        judge(5000, 15, 3, True, 53.0, **MOTOR)


@library("fan-speed", [(36.0, 4), (53.3, 6), (120.0, 12)])
def test_speed_against_pint(hertz: float, pulses: int) -> None:
    unit = pint_registry()
    expected = (hertz / unit.second / (pulses / unit.turn)).to(unit.revolutions_per_minute).magnitude
    assert fan_motor.speed_rpm(hertz, pulses) == pytest.approx(expected)
    assert fan_motor.feedback_hz(expected, pulses) == pytest.approx(hertz)


@library("fan-pulses", [(850.0, 4), (1200.0, 12)])
def test_pulses_against_pint(rpm: float, pulses: int) -> None:
    unit = pint_registry()
    turns = (rpm * unit.revolutions_per_minute).to(unit.turn / unit.second).magnitude
    assert fan_motor.feedback_hz(rpm, pulses) == pytest.approx(turns * pulses)


@property_of("fan-speed", "fan-pulses")
@given(st.floats(0, 5000), st.integers(1, 36))
def test_pulses_and_speed_return(rpm: float, pulses: int) -> None:
    assert fan_motor.speed_rpm(fan_motor.feedback_hz(rpm, pulses), pulses) == pytest.approx(rpm)


@property_of("fan-laws")
@given(st.floats(0.1, 3), st.floats(0.5, 1.5))
def test_fan_laws_hang_together(speed: float, density: float) -> None:
    """Power is airflow times pressure; slowing down and up again returns."""
    flow, pressure, power = fan_motor.fan_laws(speed, density)
    assert power == pytest.approx(flow * pressure)
    back = fan_motor.fan_laws(1 / speed, 1 / density)
    assert [a * b for a, b in zip((flow, pressure, power), back, strict=True)] == pytest.approx([1, 1, 1])
