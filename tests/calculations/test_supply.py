"""Supply bands, unbalance, patterns (from circuits solved by NumPy) and conductors."""

from __future__ import annotations

import cmath
import math
from collections.abc import Mapping

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calculations import circuit, conductors, supply
from assistant.calculations.errors import Inconsistent, OutOfRange, UnknownName
from assistant.calculations.supply_judging import judge_supply, judge_unbalance
from assistant.calculations.supply_pattern import supply_pattern
from assistant.calculations.uncertainty import Accuracy, Metered
from assistant.calculations.values import judge_drop
from assistant.calculations.windings import Metal
from tests.calculations.checks import library, pint_registry, property_of
from tests.calculations.draws import expanded_of, share_within

METER = Accuracy(0.8, 0.3)
VOLTS = st.floats(150, 280)


def three(*volts: float, meter: Accuracy = METER) -> tuple[Metered, ...]:
    """Three voltages read with one meter."""
    return tuple(Metered(v, meter, "meter") for v in volts)


def solved(sources: Mapping[str, complex], ohms: list[tuple[str, str, float]]) -> dict[str, complex]:
    """Node voltages of a circuit of ideal sources (node to earth, with 1 mohm) and resistors, by nodal analysis."""
    nodes = sorted({n for a, b, _ in ohms for n in (a, b)} | set(sources))
    index = {n: i for i, n in enumerate(n for n in nodes if n != "earth")}
    admittance = np.zeros((len(index), len(index)), complex)
    current = np.zeros(len(index), complex)
    for a, b, ohm in ohms:
        for node, other in ((a, b), (b, a)):
            if node != "earth":
                admittance[index[node], index[node]] += 1 / ohm
                if other != "earth":
                    admittance[index[node], index[other]] -= 1 / ohm
    for node, volts in sources.items():
        admittance[index[node], index[node]] += 1e3
        current[index[node]] += volts * 1e3
    found = np.linalg.solve(admittance, current)
    return {"earth": 0j} | {n: complex(found[i]) for n, i in index.items()}


def read(voltages: Mapping[str, complex], places: Mapping[str, tuple[str, str]]) -> dict[str, float]:
    """What a meter of 10 Mohm shows between the nodes named for each place."""
    return {place: abs(voltages[a] - voltages[b]) for place, (a, b) in places.items()}


LEG = 120.0
SPLIT_PLACES = {"l1-l2": ("t1", "t2"), "l1-g": ("t1", "case"), "l2-g": ("t2", "case")}


def split_phase(broken: str) -> dict[str, float]:
    """Readings at a unit's terminals on a 240 V split phase, with one conductor broken.

    Breaking leaves 1 Mohm of leakage; the unit's electronics load L1-L2 with 100 ohm, and filters of 300 and
    500 kohm lead to the case.
    """
    ohms = [
        ("l1", "t1", 1e6 if broken == "l1" else 0.05),
        ("l2", "t2", 1e6 if broken == "l2" else 0.05),
        ("case", "earth", 1e9 if broken == "ground" else 0.1),
        ("t1", "case", 3e5),
        ("t2", "case", 5e5),
    ]
    if broken != "l2, fed back":
        ohms.append(("t1", "t2", 1e6))
    else:
        ohms[1] = ("l2", "t2", 1e6)
        ohms.append(("t1", "t2", 100.0))
    return read(solved({"l1": LEG, "l2": -LEG}, ohms), SPLIT_PLACES)


@library("supply-pattern", [("none",), ("l1",), ("l2",), ("ground",), ("l2, fed back",)])
def test_split_phase_from_a_solved_circuit(broken: str) -> None:
    expected = {
        "none": ("consistent", ()),
        "l1": ("leg-missing", ("l1",)),
        "l2": ("leg-missing", ("l2",)),
        "ground": ("ground-missing", ()),
        "l2, fed back": ("legs-alike", ("l1", "l2")),
    }[broken]
    readings = split_phase(broken)
    found = supply_pattern("split-phase-240", readings)
    assert (found.pattern, found.legs) == expected, readings


def three_phase(broken: str, leg_v: float = LEG) -> dict[str, float]:
    """Readings on a wye with one conductor broken; a three-phase motor of 30 ohm a phase hangs on it."""
    sources = {f"l{i + 1}": cmath.rect(leg_v, -2 * math.pi * i / 3) for i in range(3)}
    ohms = [(leg, f"t{leg[1]}", 1e6 if broken == leg else 0.05) for leg in sources]
    ohms += [("t1", "star", 30.0), ("t2", "star", 30.0), ("t3", "star", 30.0)]
    ohms += [("case", "earth", 1e9 if broken == "ground" else 0.1), ("t1", "case", 3e5), ("t2", "case", 9e5)]
    ohms += [("t3", "case", 9e5)]
    places = {"l1-l2": ("t1", "t2"), "l2-l3": ("t2", "t3"), "l3-l1": ("t3", "t1")}
    places |= {f"l{i}-g": (f"t{i}", "case") for i in (1, 2, 3)}
    return read(solved(sources, ohms), places)


@library("supply-pattern", [("none",), ("l1",), ("l2",), ("l3",), ("ground",)])
def test_wye_from_a_solved_circuit(broken: str) -> None:
    readings = three_phase(broken)
    found = supply_pattern("wye-208", readings)
    if broken.startswith("l"):
        assert found.pattern == "leg-missing", readings
        assert found.legs == (broken,)
    else:
        assert found.pattern == {"none": "consistent", "ground": "ground-missing"}[broken], readings


@library("supply-pattern", [("none",), ("neutral",), ("ground",), ("line",), ("swapped",)])
def test_line_and_neutral_from_a_solved_circuit(broken: str) -> None:
    """230 V, neutral earthed at the transformer; the unit loads L-N with 60 ohm, filters of 1 Mohm to its case."""
    line, neutral = ("n", "l") if broken == "swapped" else ("l", "n")
    ohms = [
        (line, "tl", 1e8 if broken == "line" else 0.1),
        (neutral, "tn", 1e8 if broken == "neutral" else 0.1),
        ("case", "earth", 1e9 if broken == "ground" else 0.1),
        ("tl", "tn", 60.0),
        ("tl", "case", 1e6),
        ("tn", "case", 1e6),
    ]
    voltages = solved({"l": 230.0, "n": 0.5}, ohms)
    readings = read(voltages, {"l-n": ("tl", "tn"), "l-g": ("tl", "case"), "n-g": ("tn", "case")})
    expected = {
        "none": "consistent",
        "neutral": "neutral-missing",
        "ground": "ground-missing",
        "line": "dead",
        "swapped": "swapped",
    }[broken]
    assert supply_pattern("single-phase-230", readings).pattern == expected, readings


@pytest.mark.parametrize(
    ("system", "readings", "pattern"),
    [
        ("split-phase-240", {"l1-l2": 3, "l1-g": 1, "l2-g": 2}, "dead"),
        ("split-phase-240", {"l1-l2": 208, "l1-g": 120, "l2-g": 120}, "other-system"),
        ("wye-208", {"l1-l2": 240, "l1-g": 120, "l2-g": 120}, "other-system"),
        ("split-phase-240", {"l1-l2": 240, "l1-g": 120, "l2-g": 208}, "high-leg"),
        ("wye-208", {"l1-l2": 208, "l1-g": 120, "l2-g": 120}, "consistent"),
        ("wye-208", {"l1-l2": 208, "l2-l3": 207, "l3-l1": 209}, "consistent"),
        ("wye-208", {"l1-l2": 208, "l2-l3": 120, "l3-l1": 115}, "leg-missing"),
        (
            "three-phase-400",
            {"l1-l2": 400, "l2-l3": 400, "l3-l1": 400, "l1-g": 2, "l2-g": 400, "l3-g": 400},
            "corner-grounded",
        ),
        (
            "split-phase-240",
            {"l1-l2": 240, "l1-g": 120, "l2-g": 120, "l1-n": 160, "l2-n": 80, "n-g": 40},
            "neutral-missing",
        ),
        ("split-phase-240", {"l1-l2": 180, "l1-g": 120, "l2-g": 90}, "unexplained"),
        ("single-phase-115", {"l-n": 121, "l-g": 122, "n-g": 0.4}, "consistent"),
        ("single-phase-230", {"l-n": 110, "l-g": 60, "n-g": 55}, "unexplained"),
        ("single-phase-230", {"l-n": 20, "l-g": 10, "n-g": 180}, "leg-missing"),
    ],
)
def test_patterns_by_the_table(system: supply.System, readings: dict[str, float], pattern: str) -> None:
    found = supply_pattern(system, readings)
    assert found.pattern == pattern, found
    assert found.reason


def test_pattern_refusals() -> None:
    with pytest.raises(Inconsistent, match="leg one to leg two"):
        supply_pattern("split-phase-240", {"l1-g": 120})
    with pytest.raises(UnknownName, match="l9-g"):
        supply_pattern("split-phase-240", {"l9-g": 120})
    with pytest.raises(OutOfRange, match="voltage l1-l2"):
        supply_pattern("split-phase-240", {"l1-l2": -3})


@property_of("supply-unbalance")
@given(VOLTS, VOLTS, VOLTS)
def test_unbalance_is_zero_only_for_like_voltages(a: float, b: float, c: float) -> None:
    percent = supply.unbalance_percent(a, b, c)
    assert percent == pytest.approx(supply.unbalance_percent(c, b, a))
    assert supply.unbalance_percent(a, a, a) == pytest.approx(0, abs=1e-9)
    assert 0 <= percent < 100


@property_of("supply-derating")
@given(st.floats(0, 5), st.floats(0, 5))
def test_derating_falls_with_unbalance(a: float, b: float) -> None:
    low, high = min(a, b), max(a, b)
    assert supply.derating_factor(high) <= supply.derating_factor(low) <= 1


@property_of("supply-band")
@given(st.floats(0, 500), st.sampled_from(sorted(supply.NOMINAL_V)), st.floats(0, 5))
def test_a_better_meter_never_undoes_a_verdict(volts: float, system: supply.System, percent: float) -> None:
    coarse = judge_supply({"": Metered(volts, Accuracy(percent, 0))}, system).verdict
    fine = judge_supply({"": Metered(volts, Accuracy(percent / 3, 0))}, system).verdict
    assert coarse in ("undecided", fine)


def test_above_five_percent_there_is_no_derating() -> None:
    found = judge_unbalance(three(208, 190, 225))
    assert found.verdict == "fail"
    assert found.values["derating"] is None
    with pytest.raises(OutOfRange, match="voltage unbalance is 6 %"):
        supply.derating_factor(6)


UNBALANCED = [(480.0, 480.0, 480.0), (460.0, 467.0, 450.0), (208.0, 203.0, 214.0), (400.0, 388.0, 400.0)]


@library("supply-unbalance", UNBALANCED)
def test_chance_of_unbalance_against_monte_carlo(a: float, b: float, c: float) -> None:
    """Also of three equal voltages, where the slope of the unbalance is nothing."""
    readings = three(a, b, c, meter=Accuracy(1, 3))
    found = judge_unbalance(readings, 2)
    assert found.against is not None
    within = share_within(lambda *v: 100 * max(abs(x - sum(v) / 3) for x in v) / (sum(v) / 3), readings, high=2)
    assert found.against.chance_inside == pytest.approx(within, abs=0.02)
    assert found.against.expanded > 0.2


@library("supply-three-phase", [("l1",), ("l2",), ("l3",), ("none",)])
def test_a_lost_leg_that_a_motor_feeds_back_is_told_from_a_low_supply(broken: str) -> None:
    """The two pairs of the lost leg read far more than nothing; only one pair is whole."""
    readings = three_phase(broken, 230)
    pairs = {place: Metered(readings[place], METER, "meter") for place in ("l1-l2", "l2-l3", "l3-l1")}
    found = judge_supply(pairs, "three-phase-400")
    assert found.outcome == ("ok" if broken == "none" else "lost-leg"), readings
    assert broken == "none" or set(found.places) & {broken}


@library("supply-drop-judged", [(240.0, 231.0), (230.0, 219.0), (120.0, 120.0)])
def test_drop_against_monte_carlo(idle: float, loaded: float) -> None:
    readings = [Metered(v, Accuracy(1, 0.5), "meter") for v in (idle, loaded)]
    found = judge_drop(readings[0], readings[1], 5)
    assert found.against is not None
    assert found.against.expanded == pytest.approx(expanded_of(lambda a, b: 100 * (a - b) / a, readings), rel=0.03)


@property_of("supply-band", "nameplate-band")
@given(st.sampled_from(sorted(supply.NAMEPLATES)), st.floats(80, 700))
def test_a_nameplate_bears_ten_percent(nameplate: str, volts: float) -> None:
    low, high = supply.NAMEPLATES[nameplate]
    found = judge_supply({"": Metered(volts)}, "split-phase-240", nameplate=nameplate)
    assert (found.outcome == "ok") == (0.9 * low <= volts <= 1.1 * high)


@property_of("circuit-ampacity", "breaker-size")
@given(st.floats(1, 60), st.floats(0, 20), st.floats(0, 5))
def test_the_largest_breaker_carries_the_least_ampacity(largest: float, second: float, third: float) -> None:
    if max(second, third) > largest:
        return
    found = circuit.circuit(largest, [second, third])
    assert found.least_ampacity_a == pytest.approx(1.25 * largest + second + third)
    assert found.largest_device_a in circuit.STANDARD_A
    assert found.largest_device_a >= found.least_ampacity_a
    assert circuit.breaker_fits(found.largest_device_a, found.least_ampacity_a, found.largest_device_a) == "fits"


def test_breakers_come_in_the_sizes_of_the_code() -> None:
    """NEC 240.6(A), up to the branch circuits of these units; from memory, so it is counted nowhere."""
    sizes = (15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200)
    assert sizes == circuit.STANDARD_A


def test_circuit_refusals() -> None:
    with pytest.raises(Inconsistent, match="largest one first"):
        circuit.circuit(10, [12])
    with pytest.raises(Inconsistent, match="more than a branch circuit"):
        circuit.circuit(150, [150])
    with pytest.raises(Inconsistent, match="swapped"):
        circuit.breaker_fits(20, 30, 25)


def test_band_refusals() -> None:
    with pytest.raises(Inconsistent, match="one voltage or three"):
        judge_supply({"l1-l2": Metered(240), "l2-l3": Metered(240)}, "wye-208")
    with pytest.raises(UnknownName, match="nameplate voltage"):
        supply.nameplate_band_v("127")
    with pytest.raises(UnknownName, match="iec-60038"):
        supply.band_v("split-phase-240", "iec-60038")
    with pytest.raises(UnknownName, match="supply system"):
        supply.band_v("moonlight", "iec-60038")  # type: ignore[arg-type]
    with pytest.raises(Inconsistent, match="about zero"):
        supply.unbalance_percent(0, 0, 0)


@property_of("conductor-drop", "supply-drop")
@given(st.floats(1, 60), st.floats(1, 100), st.sampled_from([14, 12, 10, 8]), st.sampled_from([1, 3]))
def test_a_drop_explains_its_own_length(current: float, length: float, gauge: int, phases: int) -> None:
    area = conductors.awg_area_mm2(gauge)
    drop = conductors.drop_v(current, length, conductors.resistance_ohm_per_m(area, 40, stranded=True), phases)
    if not 0.01 < drop < 200:
        return
    found = conductors.explain_drop(240, 240 - drop, current, area, length, phases=phases)
    assert found.length_m == pytest.approx(length, rel=1e-6)
    assert found.extra_ohm == pytest.approx(0, abs=1e-6)


@property_of("conductor-size", "conductor-resistance")
@given(st.floats(0, 30), st.floats(-40, 140), st.sampled_from(["copper", "aluminium"]))
def test_thinner_and_warmer_wires_resist_more(gauge: float, temperature: float, metal: Metal) -> None:
    area, thinner = conductors.awg_area_mm2(gauge), conductors.awg_area_mm2(gauge + 1)
    here = conductors.resistance_ohm_per_m(area, temperature, metal)
    assert conductors.resistance_ohm_per_m(thinner, temperature, metal) > here
    assert conductors.resistance_ohm_per_m(area, temperature + 5, metal) > here


@library("conductor-for-drop", [(20.0, 30.0, 5.0), (15.0, 15.0, 3.6), (30.0, 20.0, 7.2), (40.0, 25.0, 3.0)])
def test_size_by_drop_against_pint(current: float, length: float, largest: float) -> None:
    """The thinnest size by PINT's own AWG-free arithmetic on the resistivity of copper."""
    unit = pint_registry()

    def drop(gauge: int) -> float:
        diameter = 0.005 * unit.inch * 92 ** ((36 - gauge) / 39)
        area = math.pi / 4 * diameter**2
        rho = 1.7241e-8 * unit.ohm * unit.meter * (234.5 + 75) / 254.5 * 1.02
        return float((2 * current * unit.ampere * length * unit.meter * rho / area).to(unit.volt).magnitude)

    expected = next(g for g in conductors.COMMON_AWG if drop(g) <= largest)
    assert conductors.smallest_awg(current, length, largest) == expected


def test_conductor_refusals() -> None:
    with pytest.raises(Inconsistent, match="rises under load"):
        conductors.explain_drop(230, 235, 10, 2.5)
    with pytest.raises(Inconsistent, match="No size up to 4 AWG"):
        conductors.smallest_awg(200, 300, 1)


def test_a_bad_joint_shows_as_heat() -> None:
    """5 V beyond the run at 20 A are 100 W in one place."""
    run = conductors.resistance_ohm_per_m(3.31, 40, stranded=True) * 2 * 20 * 10
    found = conductors.explain_drop(240, 240 - run - 5, 20, 3.31, 10)
    assert found.extra_w == pytest.approx(100, rel=1e-6)
