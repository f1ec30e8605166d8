"""What no calculation of the catalogue reaches from outside: defaults of functions, ends of tables, shared errors."""

from __future__ import annotations

import math

import pytest

from assistant.calculations import catalogue, cylinder, enthalpy, fan_motor, lines, refrigerant_cycle, units, windings
from assistant.calculations.errors import BadUnit, OutOfRange
from assistant.calculations.refrigerants import refrigerant
from assistant.calculations.uncertainty import Accuracy, Metered, errors_of, propagated, stands


def test_errors_are_shared_by_the_readings_of_one_meter_alone() -> None:
    mine = [Metered(10.0, Accuracy(0, 1.0, 0.6), "a"), Metered(20.0, Accuracy(0, 1.0, 0.6), "a")]
    other = Metered(30.0, Accuracy(0, 2.0), "b")
    rows = sorted(errors_of([*mine, other]))
    assert rows == [pytest.approx(row) for row in sorted([(0.8, 0.8, 0.0), (0.6, 0.0, 0.0), (0.0, 0.6, 0.0),
                                                          (0.0, 0.0, 2.0)])]  # fmt: skip
    assert propagated(lambda a, b, c: a - b, [*mine, other]) == pytest.approx(math.hypot(0.6, 0.6))


def test_uncertainties_go_with_their_values() -> None:
    assert propagated(lambda a, b: 2 * a + 3 * b, [1.0, 1.0], [0.5, 0.0]) == pytest.approx(1.0)
    with pytest.raises(Exception, match="2 values but 1"):
        propagated(lambda a, b: a, [1.0, 1.0], [0.5])


def test_a_judgement_stands_from_its_share_on() -> None:
    assert stands({"ok": 0.975, "low": 0.025}, ["ok"])
    assert not stands({"ok": 0.9749, "low": 0.0251}, ["ok"])


def test_a_cylinder_holds_what_it_may_less_what_is_in_it() -> None:
    full = cylinder.largest_fill_kg("R410A", 20.0)
    assert cylinder.room_left_kg("R410A", 20.0, 8.0, 8.0) == pytest.approx(full)
    assert cylinder.room_left_kg("R410A", 20.0, 8.0, 13.0) == pytest.approx(full - 5)


def test_tables_say_where_they_end() -> None:
    coldest, hottest = enthalpy.span_c("R410A")
    assert enthalpy.vapour_kj_kg("R410A", coldest) < enthalpy.vapour_kj_kg("R410A", 0.0)
    enthalpy.liquid_kj_kg("R410A", hottest)
    for beyond in (coldest - 0.01, hottest + 0.01):
        with pytest.raises(OutOfRange):
            enthalpy.liquid_kj_kg("R410A", beyond)


def test_defaults_of_functions_are_those_of_the_catalogue() -> None:
    assert fan_motor.fan_laws(0.8) == fan_motor.fan_laws(0.8, 1.0)
    assert lines.holds_g_per_m("R410A", 7.9) == lines.holds_g_per_m("R410A", 7.9, 40.0)
    at_sea = refrigerant_cycle.superheat_k("R410A", 850.0, 12.0)
    assert at_sea == refrigerant_cycle.superheat_k("R410A", 850.0, 12.0, 0.0)


@pytest.mark.parametrize("celsius", [-60.0, 250.0])
def test_a_conductors_coefficient_is_given_up_to_its_ends(celsius: float) -> None:
    windings.conductor_temperature_coefficient_per_k("copper", celsius)
    with pytest.raises(OutOfRange):
        windings.conductor_temperature_coefficient_per_k("copper", celsius * 1.001)


def test_nothing_needs_no_unit_where_every_unit_begins_there() -> None:
    assert units.parse("length", "0") == 0
    with pytest.raises(BadUnit):
        units.parse("length", "1")
    with pytest.raises(BadUnit):
        units.parse("temperature", "0")


def test_a_refrigerant_is_known_however_it_is_written() -> None:
    assert {refrigerant(name).name for name in ("R410A", "r-410a", "R 410A")} == {"R410A"}


@pytest.mark.parametrize("table", [((0.0, 1.0, 2.0), (1.0, 2.0)), 5.0, ((1.0,),)])
def test_a_table_has_rows_of_two(table: object) -> None:
    with pytest.raises(BadUnit, match="rows of temperature and resistance"):
        catalogue.run("thermistor-fit-beta", {"table": table})  # type: ignore[dict-item]
