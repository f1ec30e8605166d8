"""What cannot be is questioned, never judged; what can be, however broken the unit, is not refused as impossible."""

from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.calculations import catalogue
from assistant.calculations.bus_judging import judge_bus
from assistant.calculations.entry import Calculation, Parameter, Value
from assistant.calculations.errors import BadUnit, CalculationError, Inconsistent, OutOfRange
from assistant.calculations.refrigerant_cycle import judge_superheat
from assistant.calculations.refrigerants import REFRIGERANTS
from assistant.calculations.supply import System
from assistant.calculations.supply_pattern import supply_pattern
from assistant.calculations.tightness import judge_vacuum
from assistant.calculations.triangle import refuse_what_cannot_be
from assistant.calculations.uncertainty import Accuracy, Metered
from assistant.calculations.winding_judging import PAIRS, judge_windings
from tests.calculations.checks import property_of
from tests.calculations.pins import situations
from tests.calculations.test_refrigerant_cycle import coolprop_c

#: Quantities of which there is no less than nothing.
NEVER_NEGATIVE = {
    *("resistance", "voltage_ac", "current", "frequency", "capacitance", "vacuum", "humidity", "mass"),
    *("mass_per_length", "density", "duration", "airflow", "area", "volume", "speed", "kelvin"),
}
#: Quantities whose largest value that somebody could meet is far under a trillion of what they are kept in.
NEVER_ENORMOUS = NEVER_NEGATIVE - {"kelvin"} | {"voltage_dc", "temperature", "pressure_gauge", "length", "power"}

ARM = st.floats(0.05, 50) | st.just(math.inf) | st.just(0.0)
SLIP = st.floats(0.99, 1.01)
BAD = Accuracy(0.5, 0.02)


def inputs(quantities: set[str]) -> list[tuple[Calculation, Parameter]]:
    return [(c, p) for c in catalogue.CATALOGUE.values() for p in c.parameters if p.quantity in quantities]


@pytest.mark.parametrize("number", [-3.0, 1e20])
def test_no_input_takes_what_cannot_be(number: float) -> None:
    """Whether the calculation comes to use it or not."""
    for calculation, parameter in inputs(NEVER_NEGATIVE if number < 0 else NEVER_ENORMOUS):
        values: dict[str, Value] = {**situations(calculation)[0], parameter.name: number}
        with pytest.raises(CalculationError):
            print(calculation.name, parameter.name, catalogue.run(calculation.name, values))


@property_of("windings")
@given(ARM, ARM, ARM, SLIP, SLIP)
def test_whatever_is_broken_in_three_windings_can_be_read(u: float, v: float, w: float, a: float, b: float) -> None:
    pairs = [Metered(x + y, BAD, "meter") for x, y in ((u * a, v), (v, w * b), (w, u))]
    refuse_what_cannot_be(dict(zip(PAIRS, pairs, strict=True)), "ohm")


@property_of("windings")
@given(st.floats(0.1, 50), st.floats(0.1, 50), st.floats(1.15, 1000) | st.just(math.inf), st.integers(0, 2))
def test_no_windings_read_more_than_the_two_other_pairs(a: float, b: float, times: float, turn: int) -> None:
    pairs = [Metered(x, Accuracy(0.5, 0.003), "meter") for x in (a, b, (a + b) * times)]
    with pytest.raises(Inconsistent, match="measure all three again"):
        judge_windings(*pairs[turn:], *pairs[:turn])


def test_the_largest_may_be_off_by_a_twentieth() -> None:
    """Each side of where three readings are doubted, with perfect instruments and with usual ones."""
    for low, high, meter in ((2.105, 2.106, Accuracy()), (2.116, 2.121, Accuracy(0, 0.004))):
        fits, not_ = ({"u-v": Metered(1.0, meter), "v-w": Metered(1.0, meter), "w-u": Metered(x, meter)}
                      for x in (low, high))  # fmt: skip
        refuse_what_cannot_be(fits, "ohm")
        with pytest.raises(Inconsistent, match=r"^w-u at 2\.1"):
            refuse_what_cannot_be(not_, "ohm")


@property_of("supply-three-phase", "supply-unbalance")
@given(*[st.complex_numbers(max_magnitude=300, allow_nan=False, allow_infinity=False) for _ in range(3)])
def test_whatever_three_legs_stand_at_can_be_read(a: complex, b: complex, c: complex) -> None:
    volts = {place: Metered(abs(x - y)) for place, (x, y) in
             zip(("l1-l2", "l2-l3", "l3-l1"), ((a, b), (b, c), (c, a)), strict=True)}  # fmt: skip
    refuse_what_cannot_be(volts, "V")


def test_three_legs_that_cannot_be_are_questioned() -> None:
    legs: dict[str, Value] = {"l1_l2": 208.0, "l2_l3": 30.0, "l3_l1": 105.0}
    for name, more in (("supply-three-phase", {"system": "wye-208"}), ("supply-unbalance", {})):
        with pytest.raises(Inconsistent, match="l1-l2 at 208 V is more than the two other readings together"):
            catalogue.run(name, {**legs, **more})


@pytest.mark.parametrize("name", sorted(REFRIGERANTS))
def test_no_suction_line_is_colder_than_what_boils_in_it(name: str) -> None:
    """A wet line stands between bubble and dew; CoolProp says where. A little less is the thermometer's error."""
    pressure, perfect = Metered(600.0), Accuracy()
    boils = coolprop_c(name, 701.325, 0)
    assert judge_superheat(name, pressure, Metered(boils - 2.5, perfect)).outcome in ("low", "ok")
    with pytest.raises(Inconsistent, match="cannot be colder"):
        judge_superheat(name, pressure, Metered(boils - 4.5, perfect))


@pytest.mark.parametrize(
    ("system", "good", "foreign"),
    [
        ("single-phase-230", {"l-n": 231.0, "l-g": 231.0, "n-g": 0.5}, ("l1-l2", "l1-n", "l3-g")),
        ("split-phase-240", {"l1-l2": 240.0, "l1-n": 120.0, "l2-g": 120.0, "n-g": 0.5}, ("l2-l3", "l3-g", "l-n")),
        ("three-phase-400", {"l1-l2": 400.0, "l2-l3": 400.0, "l3-l1": 400.0, "l3-n": 231.0}, ("l-n", "l-g")),
    ],
)
def test_a_place_of_another_supply_is_questioned(system: System, good: dict[str, float], foreign: tuple[str]) -> None:
    assert supply_pattern(system, good).reason
    for place in foreign:
        with pytest.raises(Inconsistent, match=f"no {place} in a {system} supply"):
            supply_pattern(system, {**good, place: 120.0})


def test_an_impossible_superheat_is_no_low_one() -> None:
    """8.2 K too cold: of R-32, for which nothing is too little, it once was judged ok."""
    line = coolprop_c("R32", 900, 1) - 8.2
    with pytest.raises(Inconsistent, match="refrigerant"):
        judge_superheat("R32", Metered(900 - 101.325, Accuracy(1, 7)), Metered(line, Accuracy(0, 1)))


@property_of("vacuum-test")
@settings(max_examples=30)
@given(st.floats(5, 5000), st.floats(0, 1), st.floats(0, 1))
def test_a_vacuum_that_is_valved_off_does_not_deepen(start: float, first: float, second: float) -> None:
    usual = Accuracy(10, 2)
    rising = [Metered(pa, usual) for pa in (start, start * (1 + first), start * (1 + first) * (1 + second))]
    assert judge_vacuum(rising[0], rising[1], rising[2], 1800).outcome in ("holds", "not-deep", "moisture", "leak")
    if start > 10:
        with pytest.raises(Inconsistent, match="deepens"):
            judge_vacuum(rising[0], Metered(start / 2, usual), rising[2], duration_s=1800)
        with pytest.raises(Inconsistent, match="deepens"):
            judge_vacuum(rising[0], rising[1], Metered(start / 2, usual), duration_s=1800)


@property_of("bus")
@given(st.floats(-600, 600))
def test_swapped_probes_change_no_bus(volts: float) -> None:
    one, other = (judge_bus(Metered(v, Accuracy(0.5, 0.2)), 230.0) for v in (volts, -volts))
    assert one.chances == other.chances
    assert one.values == other.values


@pytest.mark.parametrize(("name", "given"), [("signal-source", "voltage"), ("supplied", "voltage"),
                                             ("fan-motor", "supply")])  # fmt: skip
def test_an_overloaded_voltmeter_is_no_missing_voltage(name: str, given: str) -> None:
    with pytest.raises(BadUnit, match="OL"):
        catalogue.read(name, {given: "OL"})


def test_air_has_one_second_reading() -> None:
    for name in ("moist-air", "expected-split", "split"):
        calculation = catalogue.find(name)
        given = {**situations(calculation)[-1], "wet_bulb": 15.0, "dew_point": 9.0}
        with pytest.raises(Inconsistent, match="give one of wet_bulb, humidity or dew_point only"):
            catalogue.run(name, given)
    with pytest.raises(Inconsistent, match="in_wet_bulb and in_humidity"):
        catalogue.run("capacity", {**situations(catalogue.find("capacity"))[0], "in_wet_bulb": 15.0,
                                   "in_humidity": 50.0})  # fmt: skip


def test_a_loss_comes_back_as_the_phase_that_is_lost() -> None:
    """The phasors of a supply whose third leg floats on a motor: whole to one pair only, and possible."""
    a, b = cmath.rect(230, 0), cmath.rect(230, -2 * math.pi / 3)
    third = (a + b) / 2
    volts = {"l1-l2": Metered(abs(a - b)), "l2-l3": Metered(abs(b - third)), "l3-l1": Metered(abs(third - a))}
    refuse_what_cannot_be(volts, "V")  # the two halves are just the whole


def test_the_refusal_comes_in_the_unit_given() -> None:
    texts = {"voltage": "7kV", "line": "230V"}
    with pytest.raises(OutOfRange) as refused:
        catalogue.run("bus", catalogue.read("bus", texts))
    assert str(catalogue.in_given_unit(refused.value, "bus", texts)).startswith("bus voltage is 7 kV; allowed is -2 to")
