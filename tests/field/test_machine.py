"""The physics of the units: circuits, bus, refrigerant, sensors, against what can be worked out by hand."""

from dataclasses import replace
from math import exp, inf

import pytest

from tests.field.machine import power
from tests.field.machine.air import Air
from tests.field.machine.circuit import Edge, Net
from tests.field.machine.comms import line
from tests.field.machine.controls import behave, calling
from tests.field.machine.cycle import solve
from tests.field.machine.duty import Ask, duty
from tests.field.machine.protection import standing_kpa
from tests.field.machine.sensors import ohms, read_c
from tests.field.machine.units import BUILD, Machine
from tests.field.machine.weather import Weather
from tests.field.machine.wiring import Switching, cable_net

SUMMER = Weather(35.0, 27.0, 0.5, "cooling")
WINTER = Weather(2.0, 18.0, 0.7, "heating")


@pytest.fixture(params=sorted(BUILD))
def machine(request: pytest.FixtureRequest) -> Machine:
    return BUILD[request.param]()


def test_resistances_in_a_row_and_beside_each_other() -> None:
    net = Net([Edge("a", "b", 3.0), Edge("b", "c", 6.0), Edge("b", "c", 3.0), Edge("d", "earth", 1.0)])
    assert net.resistance("a", "c") == pytest.approx(5.0, rel=1e-4)
    assert net.resistance("a", "d") == inf


def test_a_divider_and_a_point_that_hangs_free() -> None:
    net = Net([Edge("earth", "low", 100.0), Edge("low", "high", 300.0), Edge("free", "end", 1.0)])
    volts = net.voltages({("earth", "high"): (40.0, 0.0)})
    assert volts["low"].real == pytest.approx(10.0, rel=1e-3)
    assert abs(volts["free"]) < 0.01


def test_legs_of_the_supply_systems() -> None:
    for name, across, to_earth in (("solo-240", 240, 120), ("basic-208", 208, 120), ("basic-115", 118, 118)):
        shown = power.electric(BUILD[name](), Switching())
        assert shown.unit_v == pytest.approx(across, rel=0.01)
        assert shown.between("unit-1", "earth") == pytest.approx(to_earth, rel=0.01)


def test_with_a_lost_leg_both_terminals_hang_on_the_other_one() -> None:
    machine = BUILD["solo-240"]()
    machine.supply.lost_leg = 1
    shown = power.electric(machine, Switching())
    assert shown.unit_v < 5
    assert shown.between("unit-1", "earth") == pytest.approx(120, rel=0.03)


def test_a_loose_screw_is_right_at_rest_and_sags_under_load() -> None:
    machine = BUILD["solo-240"]()
    machine.branch.screw.ohm = 14.0
    assert power.electric(machine, Switching()).unit_v > 236
    loaded = power.electric(machine, Switching(), outdoor_w=800.0)
    assert loaded.unit_v == pytest.approx(240 - loaded.current_a * 14.3, abs=12)


def test_the_bus_falls_by_the_bleed_and_an_open_bleed_keeps_it() -> None:
    machine = BUILD["solo-240"]()  # its boards hang before the bus, so that only the bleed empties it
    part = machine.outdoor.power
    seconds = part.bus_uf * 1e-6 / (1 / part.bleed_ohm + 1 / 300e3)
    assert power.bus_after(machine, 340.0, seconds) == pytest.approx(340 * exp(-1), rel=0.01)
    part.bleed_ohm = inf
    assert power.bus_after(machine, 340.0, seconds) > 240


def test_worn_capacitors_ripple_as_one_over_what_is_left() -> None:
    machine = BUILD["trio"]()
    dip = 340 - power.loaded_bus(machine, 240.4, 2000.0)
    machine.outdoor.power.capacitor_share = 0.25
    assert 340 - power.loaded_bus(machine, 240.4, 2000.0) == pytest.approx(4 * dip, rel=0.02)


def test_what_trips_the_breaker_and_when() -> None:
    machine = BUILD["trio"]()
    assert power.trip(machine, 12.0, inverter_runs=True) == "none"
    machine.outdoor.compressor.insulation_mohm = 0.001
    assert power.trip(machine, 12.0, inverter_runs=True) == "start"
    machine.branch.leak_ma = 60.0
    assert power.trip(machine, 0.0, inverter_runs=False) == "at-once"
    assert power.trips_without_unit(machine)


def test_the_rated_point_and_what_faults_make_of_it(machine: Machine) -> None:
    ask = Ask("cooling", 1.0, tuple(range(len(machine.zones))))
    rated = duty(machine, SUMMER, ask, Air(1, 1), Air(1, 1))
    sound = solve(rated)
    assert 7 < sound.evaporating_c < 12
    assert 42 < sound.condensing_c < 49
    starved = solve(replace(rated, charge=0.5))
    assert starved.low_kpa < 0.8 * sound.low_kpa
    assert starved.superheat_k > sound.superheat_k + 8
    assert starved.subcooling_k < 1
    full = solve(replace(rated, charge=1.4))
    assert full.high_kpa > 1.05 * sound.high_kpa
    assert full.subcooling_k > sound.subcooling_k + 6
    tired = solve(replace(rated, pump=0.25))
    assert tired.condensing_c - tired.evaporating_c < 0.75 * (sound.condensing_c - sound.evaporating_c)
    choked = solve(replace(rated, condenser_c_kw_k=0.4 * rated.condenser_c_kw_k))
    assert choked.high_kpa > 1.15 * sound.high_kpa
    blocked = solve(replace(rated, restriction=0.95))
    assert blocked.behind_restriction_c < blocked.liquid_c - 10


def test_a_healthy_unit_heats_and_cools_and_shows_nothing(machine: Machine) -> None:
    for weather in (SUMMER, WINTER):
        for zone in machine.zones:
            zone.settings.mode = weather.wanted
        shown = behave(machine, weather, calling(machine, weather), Switching())
        assert shown.stop == "never", weather
        assert shown.shows == ""
        assert shown.output_kw > 0.5 * machine.zone.capacity_kw
        warmer = shown.supply_air_c - weather.indoor_c
        assert warmer < -6 if weather.wanted == "cooling" else warmer > 8


def test_pressure_at_rest_tells_the_refrigerant_and_the_air_in_it(machine: Machine) -> None:
    before = standing_kpa(machine, SUMMER)
    machine.refrigerant.charge = 0.5
    assert standing_kpa(machine, SUMMER) == pytest.approx(before)  # liquid is left: the pressure tells nothing
    machine.refrigerant.charge = 0.04
    assert standing_kpa(machine, SUMMER) < 0.5 * before
    machine.refrigerant.charge, machine.refrigerant.air_kpa = 1.0, 300.0
    assert standing_kpa(machine, SUMMER) == pytest.approx(before + 300 * 300.15 / 293.15, rel=0.01)


def test_a_thermistor_and_what_the_board_reads_of_it(machine: Machine) -> None:
    sensor = machine.zone.sensors["room"]
    assert ohms(sensor, 25.0) == pytest.approx(sensor.r25_ohm)
    assert read_c(sensor, 18.0, bad=False) == pytest.approx(18.0, abs=0.05)
    sensor.factor = 1.4
    drifted = read_c(sensor, 18.0, bad=False)
    assert drifted is not None
    assert drifted < 12
    sensor.broken = "short"
    assert read_c(sensor, 18.0, bad=False) is None


def test_the_signal_line_whole_broken_shorted_and_swapped(machine: Machine) -> None:
    cable = machine.zone.cable
    whole = line(machine, Switching(), outdoor_alive=True, indoor_alive=True)
    assert whole.state == "works"
    assert whole.outdoor_v[1] == pytest.approx(machine.plate.signal_v, rel=0.01)
    assert whole.outdoor_v[0] == pytest.approx(machine.plate.signal_v / 2, rel=0.02)
    cable.conductor_ohm = (0.15, 0.15, inf)
    broken = line(machine, Switching(), outdoor_alive=True, indoor_alive=True)
    assert (broken.state, broken.outdoor, broken.indoor) == ("none", "steady", "none")
    assert cable_net(machine, Switching(), jumper=True).resistance("out-2", "out-3") == inf
    cable.conductor_ohm, cable.short_23_ohm = (0.15, 0.15, 0.15), 0.4
    shorted = line(machine, Switching(), outdoor_alive=True, indoor_alive=True)
    assert (shorted.outdoor, shorted.indoor) == ("none", "none")
    cable.short_23_ohm, cable.order = inf, (0, 2, 1)
    assert line(machine, Switching(), outdoor_alive=True, indoor_alive=True).state == "none"
