"""Charge, climate and tightness against CoolProp's real nitrogen, pint and the IPCC's published potentials."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calculations import charge, flammable, instruments, tightness
from assistant.calculations.errors import Inconsistent, OutOfRange, UnknownName
from assistant.calculations.found import Found
from assistant.calculations.refrigerants import REFRIGERANTS
from assistant.calculations.uncertainty import Accuracy, Metered
from assistant.job.refrigerant import gwp as law_gwp
from tests.calculations.checks import library, pint_registry, property_of
from tests.calculations.draws import expanded_of, share_within

_IPCC_NAMES = {"R32": "HFC32", "R125": "HFC125", "R134a": "HFC134a", "R22": "HCFC22"}


def _published(name: str, report: str) -> tuple[float, float]:
    """What the published list makes of a refrigerant, and the mass share of it that no report of the IPCC's lists."""
    import globalwarmingpotentials

    table = globalwarmingpotentials.data[f"{report}GWP100"]
    parts = REFRIGERANTS[name].parts
    listed = sum(share * table[_IPCC_NAMES[part]] for part, share in parts if part in _IPCC_NAMES)
    return listed, sum(share for part, share in parts if part not in _IPCC_NAMES)


@library("warming-potential", [(name, report) for name in REFRIGERANTS for report in ("AR4", "AR5", "AR6")])
def test_potentials_against_the_published_list(name: str, report: str) -> None:
    """All refrigerants and their blends; of what is not listed (R1234yf, propane) a kilogram warms as 5 at most."""
    listed, unlisted = _published(name, report)
    assert charge.gwp100(name, report) == pytest.approx(listed + unlisted * 2.5, abs=unlisted * 2.5 + 1e-9)


@pytest.mark.parametrize("name", REFRIGERANTS)
def test_the_laws_potentials_are_those_of_the_fourth_report(name: str) -> None:
    """Regulation (EU) 2024/573 takes its HFCs from AR4."""
    listed, unlisted = _published(name, "AR4")
    assert law_gwp(name) == pytest.approx(listed + unlisted * 2.5, abs=unlisted * 2.5 + 1e-9)


@library("co2-equivalent", list(zip(REFRIGERANTS, (2.5, 1.1, 2.6, 0.9, 3.0, 0.4, 0.2), strict=True)))
def test_tonnes_against_the_published_list(name: str, mass: float) -> None:
    listed, unlisted = _published(name, "AR4")
    expected, room = (mass * value / 1000 for value in (listed + unlisted * 2.5, unlisted * 2.5))
    assert charge.co2_equivalent_t(name, mass) == pytest.approx(expected, abs=room + 1e-9)


@library(
    "nitrogen-pressure",
    [(3447.0, 21.0, 15.0), (1034.0, 27.0, 21.0), (4150.0, 25.0, 10.0), (2000.0, -5.0, 30.0), (4400.0, -20.0, 40.0)],
)
def test_nitrogen_against_the_real_gas(gauge: float, start_c: float, now_c: float) -> None:
    """CoolProp at constant density, within 1 kPa; the ideal law misses by far more at high pressure."""
    from CoolProp.CoolProp import PropsSI

    density = PropsSI("D", "P", (gauge + 101.325) * 1000, "T", start_c + 273.15, "Nitrogen")
    real = PropsSI("P", "D", density, "T", now_c + 273.15, "Nitrogen") / 1000 - 101.325
    assert tightness.nitrogen_expected_kpa(gauge, start_c, now_c) == pytest.approx(real, abs=1.0)


@library("nitrogen-test", [(3447.0, 21.0, 15.0), (1034.0, 27.0, 21.0)])
def test_a_tight_circuit_of_real_nitrogen_is_not_failed(gauge: float, start_c: float, now_c: float) -> None:
    from CoolProp.CoolProp import PropsSI

    density = PropsSI("D", "P", (gauge + 101.325) * 1000, "T", start_c + 273.15, "Nitrogen")
    now = PropsSI("P", "D", density, "T", now_c + 273.15, "Nitrogen") / 1000 - 101.325
    assert tightness.judge_nitrogen(*nitrogen(gauge, start_c, now, now_c)).verdict != "fail"
    assert tightness.judge_nitrogen(*nitrogen(gauge, start_c, now - 60, now_c)).outcome == "falls"
    assert tightness.judge_nitrogen(*nitrogen(gauge, start_c, now - 60, now_c)).verdict == "fail"


def nitrogen(start: float, start_c: float, now: float, now_c: float) -> tuple[Metered, Metered, Metered, Metered]:
    """Two pressures of one usual gauge and two temperatures of one usual thermometer."""
    gauge, probe = instruments.usual("digital-gauge"), instruments.usual("contact-thermometer")
    pressures = [Metered(value, gauge, "gauge") for value in (start, now)]
    temperatures = [Metered(value, probe, "thermometer") for value in (start_c, now_c)]
    return pressures[0], temperatures[0], pressures[1], temperatures[1]


@pytest.mark.parametrize("psig", [150, 250, 400, 550])
def test_a_tight_circuit_that_did_not_move_passes(psig: float) -> None:
    gauge = psig * 6.894757
    assert tightness.judge_nitrogen(*nitrogen(gauge, 23.9, gauge, 23.9)).verdict == "pass"


def test_a_test_that_gains_pressure_is_still_fed() -> None:
    found = tightness.judge_nitrogen(*nitrogen(3800, 20, 3900, 20))
    assert (found.outcome, found.verdict) == ("rises", "undecided")


@library("nitrogen-test", [(3792.0, 24.0, 3792.0, 24.0), (1034.0, 27.0, 1000.0, 21.0)])
def test_uncertainty_of_a_loss_against_monte_carlo(start: float, start_c: float, now: float, now_c: float) -> None:
    """One gauge and one thermometer read both times: what their readings share cancels."""
    readings = nitrogen(start, start_c, now, now_c)
    found = tightness.judge_nitrogen(*readings)

    def lost(p1: float, t1: float, p2: float, t2: float) -> float:
        return tightness.nitrogen_expected_kpa(p1, t1, t2) - p2

    assert found.against is not None
    assert found.against.expanded == pytest.approx(expanded_of(lost, readings, 4000), rel=0.05)


@library("vacuum-leak-flow", [(66.66, 0.004, 3600.0), (400.0, 0.01, 600.0)])
def test_leak_flow_against_pint(rise: float, volume: float, seconds: float) -> None:
    unit = pint_registry()
    expected = (rise * unit.pascal * volume * unit.meter**3 / (seconds * unit.second)).to("pascal * meter**3 / second")
    assert tightness.leak_rate_pa_m3_s(rise, volume, seconds) == pytest.approx(expected.magnitude)


@library("convert", [(500.0,), (300.0,), (1500.0,)])
def test_microns_against_pint(microns: float) -> None:
    unit = pint_registry()
    pascal = (microns * unit.micrometer_Hg if hasattr(unit, "micrometer_Hg") else microns * 1e-3 * unit.mmHg).to("Pa")
    assert microns * tightness.MICRON_PA == pytest.approx(pascal.magnitude, rel=1e-5)


def test_vacuum_told_apart() -> None:
    micron = tightness.MICRON_PA

    def judge(start: float, middle: float, end: float) -> Found:
        readings = [Metered(v * micron, Accuracy(5, 1), "gauge") for v in (start, middle, end)]
        return tightness.judge_vacuum(readings[0], readings[1], readings[2], 3600)

    assert judge(250, 300, 350).outcome == "holds"
    assert judge(250, 900, 1600).outcome == "leak"
    assert judge(250, 575, 900).outcome == "leak"
    assert judge(250, 1400, 1450).outcome == "moisture"
    assert judge(250, 1400, 1900).outcome == "moisture"  # the second half rises by less than half of the first
    assert judge(5000, 5000, 5000).outcome == "not-deep"
    assert judge(250, 400, 500).verdict == "undecided"
    assert judge(250, 300, 350).verdict == "pass"


@library("vacuum-test", [(250.0, 575.0, 900.0), (250.0, 700.0, 950.0), (250.0, 1200.0, 1600.0)])
def test_chance_that_a_rise_goes_on_against_monte_carlo(start: float, middle: float, end: float) -> None:
    readings = [Metered(v * tightness.MICRON_PA, Accuracy(10, 1.5), "gauge") for v in (start, middle, end)]
    found = tightness.judge_vacuum(readings[0], readings[1], readings[2], 3600)
    goes_on = share_within(lambda a, b, c: (c - b) - 0.5 * (b - a), readings, low=0)
    risen = found.chances["leak"] + found.chances["moisture"]
    assert found.chances["leak"] / risen == pytest.approx(goes_on, abs=0.02)


@property_of("nitrogen-pressure")
@given(st.floats(100, 4500), st.floats(-20, 50), st.floats(-20, 50))
def test_nitrogen_returns(gauge: float, first: float, second: float) -> None:
    there = tightness.nitrogen_expected_kpa(gauge, first, second)
    assert tightness.nitrogen_expected_kpa(there, second, first) == pytest.approx(gauge)


@property_of("room-largest-charge", "room")
@given(st.floats(2, 200), st.sampled_from(sorted(flammable.MOUNTING_M)), st.sampled_from(["R32", "R290"]))
def test_room_and_charge_return(area: float, mounting: str, name: str) -> None:
    m1, m2, _ = flammable.charge_steps_kg(name)
    largest = flammable.largest_flammable_kg(name, area, mounting)
    assert m1 <= largest <= m2
    smallest = flammable.smallest_flammable_m2(name, largest, mounting)
    assert smallest is not None
    assert smallest <= area * (1 + 1e-9)
    if m1 < flammable.formula_kg(name, area, mounting) < m2:
        assert smallest == pytest.approx(area)
    assert flammable.largest_flammable_kg(name, area * 1.5, mounting) >= largest
    assert flammable.room_check(name, largest * 0.999, area, mounting).fits
    assert not flammable.room_check(name, largest * 1.001, area, mounting).fits


@property_of("charge")
@given(st.floats(0.5, 20), st.floats(0, 100), st.floats(0, 30), st.floats(0, 100))
def test_charge_never_falls_with_length(nameplate: float, length: float, free: float, grams: float) -> None:
    here = charge.charge_kg(nameplate, length, free, grams)
    assert here >= nameplate
    assert charge.charge_kg(nameplate, length + 1, free, grams) >= here
    assert charge.charge_kg(nameplate, free, free, grams) == nameplate


@property_of("charge-branches")
@given(st.floats(0.5, 10), st.lists(st.tuples(st.floats(0, 60), st.floats(5, 80)), min_size=1, max_size=5))
def test_branches_add_up(nameplate: float, branches: list[tuple[float, float]]) -> None:
    lines = sum(length * grams for length, grams in branches) / 1000
    assert charge.branch_charge_kg(nameplate, branches) == pytest.approx(nameplate + lines)
    assert charge.branch_charge_kg(nameplate, branches, covered_kg=50) == nameplate
    assert charge.branch_charge_kg(nameplate, [(20, 15)]) == pytest.approx(charge.charge_kg(nameplate, 20, 0, 15))


def weighed(mass: float, length: float) -> tuple[Metered, Metered]:
    """A mass on the usual scale and a length by the usual tape."""
    return (
        Metered(mass, instruments.usual("charging-scale"), "scale"),
        Metered(length, instruments.usual("tape-measure"), "tape"),
    )


def test_a_charge_counts_the_grams_of_its_line() -> None:
    """0.95 kg and 20 g for each of the 10 m beyond 7.5 m: 1.15 kg."""
    assert charge.judge_charge(*weighed(1.15, 17.5), 0.95, 7.5, 20).verdict == "pass"
    assert charge.judge_charge(*weighed(0.95, 17.5), 0.95, 7.5, 20).outcome == "low"
    assert charge.judge_charge(*weighed(2.95, 17.5), 0.95, 7.5, 20).outcome == "high"
    assert charge.judge_added(*weighed(0.2, 17.5), 7.5, 20).verdict == "pass"
    assert charge.judge_added(*weighed(0.03, 6), 7.5, 20).verdict == "pass"  # within the 50 g that never matter
    assert charge.judge_added(*weighed(0.5, 17.5), 7.5, 20).outcome == "high"


@library("charge-judged", [(1.15, 17.5), (1.1, 30.0)])
def test_uncertainty_of_a_charge_against_monte_carlo(mass: float, length: float) -> None:
    readings = weighed(mass, length)
    found = charge.judge_charge(*readings, 0.95, 7.5, 20)
    draws = expanded_of(lambda m, line: 100 * m / (0.95 + (line - 7.5) * 0.02), readings)
    assert found.against is not None
    assert found.against.expanded == pytest.approx(draws, rel=0.03)


@property_of("leak-rate", "leak-rate-rolling")
@given(st.floats(0, 20), st.floats(1, 50), st.floats(1, 365), st.floats(1, 365))
def test_leak_rate_scales(added: float, full: float, first: float, second: float) -> None:
    """Twice the refrigerant is twice the rate; half the time too; after a year the time no longer counts."""
    rate = charge.annualized_leak_percent(added, full, first)
    assert charge.annualized_leak_percent(2 * added, full, first) == pytest.approx(2 * rate)
    assert charge.annualized_leak_percent(added, full, second) * second == pytest.approx(rate * first)
    assert charge.annualized_leak_percent(added, full, 365) == charge.annualized_leak_percent(added, full, 900)
    rolling = charge.rolling_leak_percent([added], full)
    assert rolling == pytest.approx(charge.annualized_leak_percent(added, full, 365))


def test_room_check_says_why() -> None:
    assert flammable.room_check("R32", 1.5, 8, "floor").says.startswith("at or under m1")
    assert not flammable.room_check("R32", 90, 500, "ceiling").fits
    small = flammable.room_check("R32", 3.5, 10, "wall")
    assert not small.fits
    assert small.smallest_area_m2 is not None
    assert small.smallest_area_m2 > 10


@pytest.mark.parametrize(("name", "mass", "area"), [("R290", 1.5, 1000), ("R32", 20, 5000), ("R290", 6, 9000)])
def test_no_room_is_large_enough_beyond_m2(name: str, mass: float, area: float) -> None:
    found = flammable.room_check(name, mass, area, "ceiling")
    assert not found.fits
    assert found.smallest_area_m2 is None


def test_the_largest_charge_and_the_check_of_a_room_agree() -> None:
    """A room of 4 m² takes what every room takes; one of 10 000 m² no more than m2."""
    assert flammable.largest_flammable_kg("R32", 4, "wall") == pytest.approx(1.836)
    assert flammable.largest_flammable_kg("R32", 10_000, "ceiling") == pytest.approx(15.912)


def test_what_does_not_burn_is_limited_by_its_concentration() -> None:
    assert flammable.room_check("R410A", 10.4, 10, "wall", height_m=2.5).fits  # 25 m³ at 0.42 kg/m³
    assert not flammable.room_check("R410A", 10.6, 10, "wall", height_m=2.5).fits
    low = flammable.room_check("R410A", 10, 10, "wall")
    assert not low.fits  # without a height the room counts as low
    assert "ASHRAE 34" in low.source
    assert flammable.room_check("R410A", 10.9, 10, "wall", height_m=2.5, concentration=0.44).fits


def test_refusals() -> None:
    with pytest.raises(Inconsistent, match="its limit by room is its concentration"):
        flammable.lfl_kg_m3("R410A")
    with pytest.raises(Inconsistent, match="maker's manual"):
        flammable.lfl_kg_m3("R454B")
    assert flammable.lfl_kg_m3("R454B", 0.3) == 0.3
    with pytest.raises(UnknownName, match="mounting"):
        flammable.largest_flammable_kg("R32", 10, "roof")
    with pytest.raises(UnknownName, match="AR9"):
        charge.gwp100("R32", "AR9")
    with pytest.raises(Inconsistent, match="at least one"):
        charge.rolling_leak_percent([], 5)
    with pytest.raises(OutOfRange, match="days"):
        charge.annualized_leak_percent(1, 5, 0)
