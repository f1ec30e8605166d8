"""Lesser parts and circumstances: hubs, vane, capacitor, receiver, pan, heaters, wet boxes, generators, cold weather.

Each is a value on ``Lesser``; what follows from it in the fans, the board, the supply and the circuit is asked there.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import TYPE_CHECKING

from tests.simulation.bench import Bench

if TYPE_CHECKING:
    from tests.simulation.unit import Unit


@dataclass
class Lesser:
    """Sound as built. Shares: 1 is whole. ``leaks``: where current goes to ground, "" nowhere."""

    wheel_grip: float = 1.0
    blade_grip: float = 1.0
    capacitor_share: float = 1.0
    control_supply_v: float = 15.0
    vane_moves: bool = True
    receiver: bool = True
    remote_locked: bool = False
    processor: str = "works"  # works, dead, wet
    display_then: str = "dark"
    pan_whole: bool = True
    lift_hose: bool = True
    feed_whole: bool = True
    signal_screw: bool = True
    frequency_share: float = 1.0
    leaks: str = ""  # cable, disconnect, board
    cable_shorted: bool = False
    crankcase_ohm: float | None = 900.0
    outdoor_hung: bool = False
    outdoor_dead: bool = False
    front_v: float = 5.0
    leak_alarm: bool = False
    switched_off: bool = False
    cold_ready: bool = True


def trips(unit: Unit) -> bool:
    """The breaker finds a short or a leak to ground as it is closed."""
    return unit.lesser.cable_shorted or bool(unit.lesser.leaks)


# -- faults ------------------------------------------------------------------------------------------------------------


def pump_hose(unit: Unit, rng: Random) -> None:
    unit.weather.cooling = True
    unit.lesser.lift_hose = False


def pan_cracked(unit: Unit, rng: Random) -> None:
    unit.weather.cooling = True
    unit.lesser.pan_whole = False


def wheel_slips(unit: Unit, rng: Random) -> None:
    unit.lesser.wheel_grip = rng.uniform(0.2, 0.4)


def blade_slips(unit: Unit, rng: Random) -> None:
    unit.lesser.blade_grip = rng.uniform(0.12, 0.25)


def capacitor_weak(unit: Unit, rng: Random) -> None:
    unit.lesser.capacitor_share = rng.uniform(0.02, 0.45)


def vane(unit: Unit, rng: Random) -> None:
    unit.lesser.vane_moves = False


def receiver(unit: Unit, rng: Random) -> None:
    unit.lesser.receiver = False


def remote_locked(unit: Unit, rng: Random) -> None:
    unit.lesser.remote_locked = True


def processor(unit: Unit, rng: Random) -> None:
    unit.lesser.processor = "dead"
    unit.lesser.display_then = rng.choice(["dark", "dark", "nonsense"])
    unit.control.board_marked = rng.choice(["clean", "clean", "heat", "marks"])


def board_wet(unit: Unit, rng: Random) -> None:
    unit.lesser.processor = "wet"
    unit.lesser.display_then = rng.choice(["nonsense", "nonsense", "dark"])
    unit.control.board_marked = "wet"


def feed_broken(unit: Unit, rng: Random) -> None:
    unit.lesser.feed_whole = False


def cable_leaks(unit: Unit, rng: Random) -> None:
    unit.line.insulation_mohm = rng.uniform(0.0, 0.01)


def signal_screw(unit: Unit, rng: Random) -> None:
    unit.lesser.signal_screw = False
    unit.line.comes_and_goes = True


def generator(unit: Unit, rng: Random) -> None:
    unit.lesser.frequency_share = rng.choice([rng.uniform(0.9, 0.965), rng.uniform(1.035, 1.08)])


def cable_shorted(unit: Unit, rng: Random) -> None:
    unit.lesser.cable_shorted = True


def disconnect_wet(unit: Unit, rng: Random) -> None:
    unit.lesser.leaks = "disconnect"


def board_leaks(unit: Unit, rng: Random) -> None:
    unit.lesser.leaks = "board"


def crankcase(unit: Unit, rng: Random) -> None:
    unit.lesser.crankcase_ohm = None


def valve_output(unit: Unit, rng: Random) -> None:
    unit.valve.fed = False
    unit.valve.rested_at = rng.choice([rng.uniform(0.1, 0.5), rng.uniform(0.1, 0.5), rng.uniform(1.5, 2.2)])


def outdoor_hung(unit: Unit, rng: Random) -> None:
    unit.lesser.outdoor_hung = True


def outdoor_dead(unit: Unit, rng: Random) -> None:
    unit.lesser.outdoor_dead = True


def front_output(unit: Unit, rng: Random) -> None:
    unit.lesser.front_v = rng.uniform(1.5, 4.2)


def leak_alarm(unit: Unit, rng: Random) -> None:
    unit.lesser.leak_alarm = True


def switched_off(unit: Unit, rng: Random) -> None:
    unit.lesser.switched_off = True


def too_cold(unit: Unit, rng: Random) -> None:
    unit.weather.cooling = True
    unit.weather.outdoor_c = rng.uniform(-4, 7)
    unit.lesser.cold_ready = False


def too_large(unit: Unit, rng: Random) -> None:
    unit.site.load = rng.uniform(0.08, 0.18)


FAULTS = {
    "drain-pump-hose-blocked": pump_hose,
    "drain-pan-cracked": pan_cracked,
    "blower-wheel-slips": wheel_slips,
    "outdoor-blade-slips": blade_slips,
    "indoor-run-capacitor-weak": capacitor_weak,
    "vane-motor-failed": vane,
    "receiver-failed": receiver,
    "remote-locked": remote_locked,
    "indoor-board-processor": processor,
    "indoor-board-wet": board_wet,
    "indoor-feed-broken": feed_broken,
    "cable-leaks": cable_leaks,
    "signal-terminal-loose": signal_screw,
    "generator-supply": generator,
    "supply-cable-shorted": cable_shorted,
    "disconnect-wet": disconnect_wet,
    "outdoor-board-leaks": board_leaks,
    "crankcase-heater-open": crankcase,
    "outdoor-board-valve-output": valve_output,
    "outdoor-control-frozen": outdoor_hung,
    "outdoor-board-processor": outdoor_dead,
    "indoor-board-front-output": front_output,
    "leak-sensor-false": leak_alarm,
    "breaker-switched-off": switched_off,
    "too-cold-to-cool": too_cold,
    "unit-too-large": too_large,
}

# -- checks ------------------------------------------------------------------------------------------------------------


def fan_volts_ac(unit: Unit, bench: Bench) -> None:
    fed = unit.indoor_alive() and unit.obeys_controls() and unit.fan.output and unit.fan.supply_output
    bench.meter(unit.indoor_supply_v() if fed else bench.rng.uniform(0, 3))


def fan_control_volts(unit: Unit, bench: Bench) -> None:
    shorted = unit.fan.supply_pin_ohm is not None and unit.fan.supply_pin_ohm < 400 and unit.fan.plug_contact
    bench.meter(1.5 if shorted else unit.lesser.control_supply_v * unit.indoor_alive())


def fan_winding(unit: Unit, bench: Bench) -> None:
    """Most dead AC motors have an open winding; the others are stuck or shorted in their turns."""
    bench.meter(None if unit.fan.motor == "dead" and bench.rng.random() < 0.75 else 180.0)


def outdoor_pulses(unit: Unit, bench: Bench) -> None:
    turns = unit.outdoor_fan_turns()
    alive = unit.outdoor_board_alive() and unit.outdoor_fan.plug == "firm"
    pulled_up = alive and unit.outdoor_fan.motor == "ok"
    bench.say("jumping" if turns else "steady" if pulled_up else "none")


def receiver_pulses(unit: Unit, bench: Bench) -> None:
    control = unit.control
    hears = unit.rail_5v() > 4.5 and control.display_plugged and unit.lesser.receiver and control.display != "dark"
    bench.say("jumps" if hears else "still")


def remote_reset(unit: Unit, bench: Bench) -> None:
    answers = unit.obeys_controls() and unit.lesser.receiver and unit.control.remote_sends
    bench.say("yes" if answers and unit.lesser.remote_locked else "no")


def frequency(unit: Unit, bench: Bench) -> None:
    bench.meter(unit.profile.supply.frequency_hz * unit.lesser.frequency_share)


def cable_insulation(unit: Unit, bench: Bench) -> None:
    lesser = unit.lesser
    bench.meter(1.0 if lesser.cable_shorted else 5000.0 if lesser.leaks == "disconnect" else 300e6)


def terminals_insulation(unit: Unit, bench: Bench) -> None:
    bench.meter(6000.0 if unit.lesser.leaks == "board" else 50e6)


def short_runs(unit: Unit, bench: Bench) -> None:
    bench.say("yes" if unit.site.load < 0.2 else "no")


def cools_in_cold(unit: Unit, bench: Bench) -> None:
    bench.say("yes" if unit.weather.cooling and unit.weather.outdoor_c < 10 else "no")


def outdoor_sniff(unit: Unit, bench: Bench) -> None:
    bench.say("yes" if unit.circuit.leak == "outdoor-inside" and bench.rng.random() < 0.95 else "no")


ANSWERS = {
    "drain-pan-seams": lambda unit, bench: bench.say("holds" if unit.lesser.pan_whole else "seeps"),
    "blower-wheel-hold": lambda unit, bench: bench.say("tight" if unit.lesser.wheel_grip > 0.9 else "slips"),
    "outdoor-blade-hold": lambda unit, bench: bench.say("tight" if unit.lesser.blade_grip > 0.9 else "slips"),
    "indoor-fan-kind": lambda unit, bench: bench.say("ac" if unit.lesser.capacitor_share < 1 else "dc"),
    "indoor-fan-capacitance": lambda unit, bench: bench.say("enough" if unit.lesser.capacitor_share > 0.9 else "less"),
    "indoor-fan-winding-ohms": fan_winding,
    "indoor-fan-volts-ac": fan_volts_ac,
    "indoor-fan-control-volts": fan_control_volts,
    "vane-swing": lambda unit, bench: bench.say("swings" if unit.lesser.vane_moves else "still"),
    "outdoor-fan-pulses": outdoor_pulses,
    "receiver-pulses": receiver_pulses,
    "remote-reset-try": remote_reset,
    "signal-terminal-tug": lambda unit, bench: bench.say("firm" if unit.lesser.signal_screw else "moved"),
    "mains-frequency": frequency,
    "supply-cable-insulation": cable_insulation,
    "disconnect-look": lambda unit, bench: bench.say("wet" if unit.lesser.leaks == "disconnect" else "dry"),
    "outdoor-terminals-insulation": terminals_insulation,
    "crankcase-heater-ohms": lambda unit, bench: bench.meter(unit.lesser.crankcase_ohm),
    "nothing-short-runs": short_runs,
    "cooling-in-cold": cools_in_cold,
    "leak-outdoor-sniff": outdoor_sniff,
}

# -- what the customer meets -------------------------------------------------------------------------------------------

SYMPTOMS = {
    "vane-still": lambda unit: 0.9 if not unit.lesser.vane_moves else 0.0,
    "lesser:remote-ignored": lambda unit: 1.0 if not unit.lesser.receiver or unit.lesser.remote_locked else 0.0,
    "lesser:water-down-wall": lambda unit: 1.0 if not unit.lesser.pan_whole and unit.weather.cooling else 0.0,
    "lesser:supply-indication": lambda unit: (
        0.8 if unit.lesser.frequency_share != 1 and unit.outdoor_board_alive() else 0.0
    ),
    "lesser:compressor-noisy": lambda unit: 0.7 if unit.lesser.crankcase_ohm is None and unit.tries_to_run() else 0.0,
    "lesser:refrigerant-alarm": lambda unit: 1.0 if unit.lesser.leak_alarm else 0.0,
    "lesser:starts-and-stops": lambda unit: 0.7 if unit.site.load < 0.2 else 0.0,
    "lesser:stops-before-setpoint": lambda unit: 0.4 if unit.site.load < 0.2 else 0.0,
}
