"""The simulated circuit behaves as a refrigerant circuit does."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from CoolProp.CoolProp import PropsSI

from tests.simulation.cycle import HIGH_STOP_C, Inputs, dew_gauge_kpa, feed, settle

SOUND = Inputs(
    cooling=True,
    indoor_c=26,
    outdoor_c=32,
    room_c=26,
    weather_c=32,
    indoor_flow=0.9,
    outdoor_flow=0.95,
    charge=1.0,
    narrow=1.0,
    strainer=1.0,
    opening=None,
    other_gas_kpa=0,
    slide_leak=0,
)


@pytest.mark.parametrize("refrigerant", ["R32", "R410A", "R454B", "R22"])
@pytest.mark.parametrize("cooling", [True, False])
def test_a_sound_unit_settles_inside_the_usual_bands(refrigerant: str, cooling: bool) -> None:
    winter = replace(SOUND, cooling=False, outdoor_c=4, weather_c=4, indoor_c=20, room_c=20)
    state = settle(refrigerant, SOUND if cooling else winter)
    assert state.stop == ""
    assert 0.9 < state.output <= 1.0
    assert 1 < state.superheat_k < 10
    assert 3 < state.subcooling_k < 15
    assert 0 < state.boiling_c < 14 if cooling else -12 < state.boiling_c < 2
    assert state.discharge_c < 90


def test_gauge_pressures_are_those_of_coolprop() -> None:
    for celsius in (-20, 0, 9, 45):
        expected = PropsSI("P", "T", celsius + 273.15, "Q", 1, "R32") / 1000 - 101.325
        assert dew_gauge_kpa("R32", celsius) == pytest.approx(expected, rel=2e-3)


def test_less_charge_starves_more_and_stops_subcooling() -> None:
    states = [settle("R32", replace(SOUND, charge=charge)) for charge in (1.0, 0.7, 0.65, 0.6, 0.56)]
    for full, less in pairwise(states):
        assert less.boiling_c < full.boiling_c
        assert less.superheat_k > full.superheat_k
        assert less.output < full.output
        assert less.subcooling_k <= full.subcooling_k


def test_a_blocked_condenser_ends_in_the_high_pressure_stop() -> None:
    flows = (1.0, 0.6, 0.4, 0.25, 0.1)
    states = [settle("R32", replace(SOUND, outdoor_flow=flow)) for flow in flows]
    condensing = [state.condensing_c for state in states]
    assert condensing == sorted(condensing)
    assert states[-1].stop == "high-pressure"
    assert condensing[-1] > HIGH_STOP_C


def test_little_air_over_the_indoor_coil_freezes_it() -> None:
    assert settle("R32", replace(SOUND, indoor_flow=0.25)).boiling_c < 0 < settle("R32", SOUND).boiling_c


def test_an_open_valve_floods_and_a_shut_one_starves() -> None:
    assert settle("R32", replace(SOUND, opening=2.0)).superheat_k == 0
    starved = settle("R32", replace(SOUND, opening=0.2))
    assert starved.superheat_k > 15
    assert starved.subcooling_k > settle("R32", SOUND).subcooling_k  # liquid waits before the valve


def test_the_valve_makes_up_for_what_it_can() -> None:
    assert feed(replace(SOUND, narrow=0.7), None) == pytest.approx(1.0)
    assert feed(replace(SOUND, narrow=0.3), None) < 0.6


def test_other_gas_raises_the_pressure_and_takes_output() -> None:
    mixed = settle("R32", replace(SOUND, other_gas_kpa=500))
    sound = settle("R32", SOUND)
    assert mixed.condensing_c <= sound.condensing_c
    assert mixed.high_kpa > sound.high_kpa + 300
    assert mixed.output < sound.output - 0.1
