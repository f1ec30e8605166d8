"""DC fan motors with their electronics inside: five wires (supply, ground, control supply, command, feedback).

Voltages in V against the motor's ground, pulses in Hz, speed in rpm.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

from assistant.calculations.errors import Inconsistent, within
from assistant.calculations.uncertainty import Accuracy, Judged, judged

#: Band of the supply and control voltages around the profile's value. Common practice, no source.
SUPPLY_TOLERANCE_PERCENT = 15.0
#: What a meter's frequency range does at worst. Common practice, no source.
COUNTER = Accuracy(0.1, 0.0)
ORDER_SOURCE = "supply, control, command, then feedback: common practice, no source; values from the unit profile"

Outcome = Literal["ok", "no-supply", "no-control", "no-command", "motor-dead", "no-feedback", "off-speed"]
OUTCOMES: tuple[Outcome, ...] = (
    "ok",
    "no-supply",
    "no-control",
    "no-command",
    "motor-dead",
    "no-feedback",
    "off-speed",
)


def speed_rpm(pulses_hz: float, pulses_per_turn: int) -> float:
    """Speed from the feedback: 60·f/pulses a turn. f 0 to 100 kHz, 1 to 1000 pulses. Definition."""
    within("feedback pulses", pulses_hz, 0, 1e5, "Hz")
    within("pulses per turn", pulses_per_turn, 1, 1000, "1")
    return 60 * pulses_hz / pulses_per_turn


def feedback_hz(rpm: float, pulses_per_turn: int) -> float:
    """Feedback frequency at ``rpm`` (0 to 100 000): n·pulses/60. Definition."""
    within("speed", rpm, 0, 1e5, "rpm")
    within("pulses per turn", pulses_per_turn, 1, 1000, "1")
    return rpm * pulses_per_turn / 60


def fan_laws(speed_ratio: float, density_ratio: float = 1.0) -> tuple[float, float, float]:
    """(airflow, pressure, power) ratios: n, n²·ρ, n³·ρ; both ratios 0.01 to 10.

    Source: fan laws as in AMCA 201 and ISO 5801 (titles from memory), same fan and system.
    """
    within("speed ratio", speed_ratio, 0.01, 10, "1")
    within("density ratio", density_ratio, 0.01, 10, "1")
    return speed_ratio, speed_ratio**2 * density_ratio, speed_ratio**3 * density_ratio


class FanMotorJudgement(NamedTuple):
    """What the five wires say: likeliest ``outcome`` with ``chances`` of all (sum 1), and the judgements behind.

    ``rpm`` is the speed from feedback, None when no pulses were measured.
    """

    outcome: Outcome
    chances: tuple[tuple[Outcome, float], ...]
    rpm: float | None
    against_supply: Judged
    against_control: Judged
    against_command: Judged
    against_speed: Judged | None


def judge_fan_motor(
    supply_v: float,
    control_v: float,
    command_v: float,
    turning: bool,
    pulses_hz: float | None,
    *,
    expected_supply_v: float,
    expected_control_v: float,
    command_span_v: tuple[float, float],
    pulses_per_turn: int,
    speed_span_rpm: tuple[float, float],
    meter: Accuracy,
    frequency_meter: Accuracy = COUNTER,
) -> FanMotorJudgement:
    """Judge a fan told to run. ``pulses_hz`` is None when the feedback was not measured.

    The first wire that fails names the fault, since each depends on those before it: supply, control, command, then
    whether it turns, then feedback. Voltages 0 to 1000 V. Raises OutOfRange, and Inconsistent for pulses without
    turning or a span upside down.
    """
    for name, value in (("supply", supply_v), ("control", control_v), ("command", command_v)):
        within(f"fan motor {name} voltage", value, 0, 1000, "V")
    within("expected supply voltage", expected_supply_v, 1, 1000, "V")
    within("expected control voltage", expected_control_v, 1, 1000, "V")
    if pulses_hz and not turning:
        raise Inconsistent(f"The feedback shows {pulses_hz:.4g} Hz but the fan does not turn; look again at both.")
    supply = _near(supply_v, expected_supply_v, meter)
    control = _near(control_v, expected_control_v, meter)
    command = judged(command_v, meter.expanded(command_v), *command_span_v)
    rpm = None if pulses_hz is None else speed_rpm(pulses_hz, pulses_per_turn)
    speed = None
    if rpm:
        relative = frequency_meter.expanded(pulses_hz or 0.0) / (pulses_hz or 1.0)
        speed = judged(rpm, rpm * relative, *speed_span_rpm)
    good = [supply.chance_inside, control.chance_inside, command.chance_inside]
    shares: dict[Outcome, float] = {
        "no-supply": 1 - good[0],
        "no-control": good[0] * (1 - good[1]),
        "no-command": good[0] * good[1] * (1 - good[2]),
    }
    rest = good[0] * good[1] * good[2]
    for outcome, share in _running(turning, rpm, speed).items():
        shares[outcome] = rest * share
    chances = tuple((name, shares.get(name, 0.0)) for name in OUTCOMES)
    return FanMotorJudgement(max(chances, key=lambda c: c[1])[0], chances, rpm, supply, control, command, speed)


def _near(value: float, expected: float, meter: Accuracy) -> Judged:
    share = SUPPLY_TOLERANCE_PERCENT / 100
    return judged(value, meter.expanded(value), expected * (1 - share), expected * (1 + share))


def _running(turning: bool, rpm: float | None, speed: Judged | None) -> dict[Outcome, float]:
    if not turning:
        return {"motor-dead": 1.0}
    if rpm is None:
        return {"ok": 1.0}
    if speed is None:
        return {"no-feedback": 1.0}
    return {"ok": speed.chance_inside, "off-speed": 1 - speed.chance_inside}
