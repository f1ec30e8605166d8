"""Charge, climate and tightness against CoolProp's real nitrogen, pint and the IPCC's published potentials."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calculations import charge, flammable, tightness
from assistant.calculations.errors import Inconsistent, OutOfRange, UnknownName
from assistant.calculations.refrigerants import REFRIGERANTS
from assistant.calculations.uncertainty import Accuracy
from tests.calculations.checks import library, pint_registry, property_of

_IPCC_NAMES = {"R32": "HFC32", "R125": "HFC125", "R134a": "HFC134a", "R22": "HCFC22"}


@library(
    "warming-potential",
    [(name, report) for name in ("R32", "R134a", "R22", "R410A", "R407C") for report in ("AR4", "AR5", "AR6")],
)
def test_potentials_against_the_published_list(name: str, report: str) -> None:
    import globalwarmingpotentials

    published = globalwarmingpotentials.data[f"{report}GWP100"]
    expected = sum(share * published[_IPCC_NAMES[part]] for part, share in REFRIGERANTS[name].parts)
    assert charge.gwp100(name, report) == pytest.approx(expected)


@library("co2-equivalent", [("R32", 1.1), ("R410A", 2.5), ("R407C", 3.0)])
def test_tonnes_against_the_published_list(name: str, mass: float) -> None:
    import globalwarmingpotentials

    published = globalwarmingpotentials.data["AR4GWP100"]
    expected = sum(share * published[_IPCC_NAMES[part]] for part, share in REFRIGERANTS[name].parts) * mass / 1000
    assert charge.co2_equivalent_t(name, mass) == pytest.approx(expected)


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
    found = tightness.judge_nitrogen(gauge, start_c, now, now_c, gauge=Accuracy(0.5, 3), thermometer_k=0.5)
    assert found.against.verdict != "fail"
    lost = tightness.judge_nitrogen(gauge, start_c, now - 60, now_c, gauge=Accuracy(0.5, 3), thermometer_k=0.5)
    assert lost.against.verdict == "fail"


@library("vacuum-leak-flow", [(66.66, 0.004, 3600.0), (400.0, 0.01, 600.0)])
def test_leak_flow_against_pint(rise: float, volume: float, seconds: float) -> None:
    unit = pint_registry()
    expected = (rise * unit.pascal * volume * unit.meter**3 / (seconds * unit.second)).to("pascal * meter**3 / second")
    assert tightness.leak_rate_pa_m3_s(rise, volume, seconds) == pytest.approx(expected.magnitude)


@library("vacuum-test", [(500.0,), (300.0,), (1500.0,)])
def test_microns_against_pint(microns: float) -> None:
    unit = pint_registry()
    pascal = (microns * unit.micrometer_Hg if hasattr(unit, "micrometer_Hg") else microns * 1e-3 * unit.mmHg).to("Pa")
    assert microns * tightness.MICRON_PA == pytest.approx(pascal.magnitude, rel=1e-5)


def test_vacuum_told_apart() -> None:
    micron = tightness.MICRON_PA

    def outcome(start: float, middle: float, end: float) -> str:
        readings = [v * micron for v in (start, middle, end)]
        return tightness.judge_vacuum_decay(*readings, 3600, gauge=Accuracy(5, 1)).verdict

    assert outcome(250, 300, 350) == "dry and tight"
    assert outcome(250, 900, 1600) == "leak"
    assert outcome(250, 1400, 1450) == "moisture"
    assert outcome(250, 400, 500) == "undecided"


@property_of("nitrogen-pressure")
@given(st.floats(100, 4500), st.floats(-20, 50), st.floats(-20, 50))
def test_nitrogen_returns(gauge: float, first: float, second: float) -> None:
    there = tightness.nitrogen_expected_kpa(gauge, first, second)
    assert tightness.nitrogen_expected_kpa(there, second, first) == pytest.approx(gauge)


@property_of("room-largest-charge", "room")
@given(st.floats(2, 200), st.sampled_from(sorted(flammable.MOUNTING_M)), st.sampled_from(["R32", "R290"]))
def test_room_and_charge_return(area: float, mounting: str, name: str) -> None:
    largest = flammable.largest_charge_kg(name, area, mounting)
    if 0.01 <= largest <= 100:
        assert flammable.smallest_area_m2(name, largest, mounting) == pytest.approx(area)
    assert flammable.largest_charge_kg(name, area * 1.5, mounting) > largest


@property_of("charge")
@given(st.floats(0.5, 20), st.floats(0, 100), st.floats(0, 30), st.floats(0, 100))
def test_charge_never_falls_with_length(nameplate: float, length: float, free: float, grams: float) -> None:
    here = charge.charge_kg(nameplate, length, free, grams)
    assert here >= nameplate
    assert charge.charge_kg(nameplate, length + 1, free, grams) >= here
    assert charge.charge_kg(nameplate, free, free, grams) == nameplate


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
    assert small.smallest_area_m2 > 10


def test_refusals() -> None:
    with pytest.raises(Inconsistent, match="not flammable"):
        flammable.lfl_kg_m3("R410A")
    with pytest.raises(Inconsistent, match="maker's manual"):
        flammable.lfl_kg_m3("R454B")
    assert flammable.lfl_kg_m3("R454B", 0.3) == 0.3
    with pytest.raises(UnknownName, match="mounting"):
        flammable.largest_charge_kg("R32", 10, "roof")
    with pytest.raises(UnknownName, match="AR9"):
        charge.gwp100("R32", "AR9")
    with pytest.raises(Inconsistent, match="at least one"):
        charge.rolling_leak_percent([], 5)
    with pytest.raises(OutOfRange, match="days"):
        charge.annualized_leak_percent(1, 5, 0)
