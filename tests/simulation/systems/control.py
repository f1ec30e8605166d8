"""The indoor board's own supply, display, remote and processor."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import TYPE_CHECKING

from tests.simulation.bench import Bench

if TYPE_CHECKING:
    from tests.simulation.unit import Unit


@dataclass
class Control:
    """``rail_v`` is what the board's five-volt supply gives with nothing shorted on it."""

    rail_v: float = 5.05
    fuse_ohm: float | None = 0.15
    display_plugged: bool = True
    display: str = "normal"  # what the display itself does with its supply: normal, dark, nonsense
    adapter_seated: bool = True
    remote_sends: bool = True
    hung: bool = False
    display_when_hung: str = "frozen"
    board_marked: str = "clean"
    dragged_to_v: float = 1.5


def rail_5v(unit: Unit, motor_plugged: bool = True) -> float:
    """Volts on the five-volt pin: nothing without supply or fuse; a shorted motor drags it while plugged."""
    control = unit.control
    if not unit.supply_reaches_indoor() or control.fuse_ohm is None:
        return 0.02
    ohms = unit.fan.supply_pin_ohm
    if motor_plugged and ohms is not None and ohms < 400 and unit.fan.plug_contact:
        return control.dragged_to_v
    return control.rail_v


def display(unit: Unit) -> str:
    """normal, dark, frozen or nonsense, as one sees it."""
    control = unit.control
    if unit.lesser.processor != "works" and rail_5v(unit) > 4.0:
        return unit.lesser.display_then
    if rail_5v(unit) < 4.0 or not control.display_plugged or control.display == "dark" or unit.lesser.front_v < 3.0:
        return "dark"
    if unit.lesser.front_v < 4.4:
        return "nonsense"
    if control.display == "nonsense":
        return "nonsense"
    if control.hung or not control.adapter_seated:
        return control.display_when_hung
    return "normal"


def answers(unit: Unit) -> bool:
    """The unit reacts to a remote that sends: its receiver sits on the display."""
    control = unit.control
    awake = rail_5v(unit) > 4.5 and not control.hung and control.adapter_seated
    awake = awake and unit.lesser.processor == "works"
    return awake and control.display_plugged and control.display != "dark" and unit.lesser.front_v >= 3.0


# -- faults ------------------------------------------------------------------------------------------------------------


def display_connector_loose(unit: Unit, rng: Random) -> None:
    unit.control.display_plugged = False


def network_adapter_loose(unit: Unit, rng: Random) -> None:
    unit.control.adapter_seated = False
    unit.control.display_when_hung = rng.choice(["frozen", "frozen", "nonsense", "dark"])


def display_failed(unit: Unit, rng: Random) -> None:
    unit.control.display = rng.choice(["dark", "nonsense"])


def indoor_board_supply(unit: Unit, rng: Random) -> None:
    unit.control.rail_v = rng.uniform(0.0, 3.8)
    unit.control.board_marked = "heat" if rng.random() < 0.4 else "clean"


def indoor_fuse_blown(unit: Unit, rng: Random) -> None:
    unit.control.fuse_ohm = None


def fan_motor_drags_supply(unit: Unit, rng: Random) -> None:
    unit.fan.supply_pin_ohm = rng.uniform(5, 300)
    unit.control.dragged_to_v = rng.uniform(0.2, 3.5)
    unit.fan.motor = "dead"


def remote_control_fault(unit: Unit, rng: Random) -> None:
    unit.control.remote_sends = False


def control_frozen(unit: Unit, rng: Random) -> None:
    unit.control.hung = True
    unit.control.display_when_hung = rng.choice(["frozen", "frozen", "frozen", "nonsense"])


FAULTS = {
    "display-connector-loose": display_connector_loose,
    "network-adapter-loose": network_adapter_loose,
    "display-failed": display_failed,
    "indoor-board-supply": indoor_board_supply,
    "indoor-fuse-blown": indoor_fuse_blown,
    "fan-motor-drags-supply": fan_motor_drags_supply,
    "remote-control-fault": remote_control_fault,
    "control-frozen": control_frozen,
}

# -- checks ------------------------------------------------------------------------------------------------------------


def display_look(unit: Unit, bench: Bench) -> None:
    bench.say(display(unit))


def remote_look(unit: Unit, bench: Bench) -> None:
    bench.say("yes" if unit.control.remote_sends else "no")


def remote_obeyed(unit: Unit, bench: Bench) -> None:
    bench.say("answers" if answers(unit) and unit.lesser.receiver and not unit.lesser.remote_locked else "nothing")


def button_try(unit: Unit, bench: Bench) -> None:
    # The button sits on the display's board or beside it, read by the same processor.
    bench.say("starts" if answers(unit) else "nothing")


def power_rest(unit: Unit, bench: Bench) -> None:
    """Three minutes off wake a hung processor; nothing else is mended by it, though what was never there is gone."""
    bench.say(
        "gone"
        if unit.control.hung or unit.lesser.outdoor_hung or (unit.site.absent and not unit.site.normal)
        else "same"
    )


def display_plug(unit: Unit, bench: Bench) -> None:
    bench.say("home" if unit.control.display_plugged else "loose")


def adapter(unit: Unit, bench: Bench) -> None:
    bench.say("seated" if unit.control.adapter_seated else "crooked")


def fuse(unit: Unit, bench: Bench) -> None:
    bench.meter(unit.control.fuse_ohm)


def board_look(unit: Unit, bench: Bench) -> None:
    bench.say(unit.control.board_marked)


def supply_volts(unit: Unit, bench: Bench) -> None:
    bench.meter(unit.indoor_supply_v())


def low_volts(unit: Unit, bench: Bench) -> None:
    bench.meter(rail_5v(unit))


def low_volts_alone(unit: Unit, bench: Bench) -> None:
    bench.meter(rail_5v(unit, motor_plugged=False))


def display_volts(unit: Unit, bench: Bench) -> None:
    """Comes after the plug was pressed home, so a loose plug is no more."""
    volts = min(rail_5v(unit), unit.lesser.front_v)
    bench.meter(volts, "voltage")
    control = unit.control
    right = volts > 4.4 and control.display == "normal" and not control.hung and control.adapter_seated
    right = right and unit.lesser.processor == "works"
    bench.say("yes" if right else "no", "picture")


ANSWERS = {
    "indoor-display-look": display_look,
    "remote-look": remote_look,
    "remote-obeyed": remote_obeyed,
    "indoor-button-try": button_try,
    "power-rest": power_rest,
    "display-plug-seat": display_plug,
    "network-adapter-seat": adapter,
    "indoor-fuse-ohms": fuse,
    "indoor-board-look": board_look,
    "indoor-supply-volts": supply_volts,
    "indoor-low-volts": low_volts,
    "indoor-low-volts-alone": low_volts_alone,
    "display-plug-volts": display_volts,
}

# -- what the customer meets -------------------------------------------------------------------------------------------

SYMPTOMS = {
    "display-dark": lambda unit: 1.0 if display(unit) == "dark" else 0.0,
    "display-frozen": lambda unit: 1.0 if display(unit) == "frozen" else 0.0,
    "display-nonsense": lambda unit: 1.0 if display(unit) == "nonsense" else 0.0,
    "remote-ignored": lambda unit: 1.0 if not (answers(unit) and unit.control.remote_sends) else 0.0,
    "dead-unit": lambda unit: 0.7 if rail_5v(unit) < 4.0 else 0.0,
}
