"""What shakes and hums."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import TYPE_CHECKING

from tests.simulation.bench import Bench

if TYPE_CHECKING:
    from tests.simulation.unit import Unit


@dataclass
class Noise:
    """Things that shake."""

    panel: bool = False
    line: bool = False
    mount: bool = False
    oil: bool = False


# -- faults ------------------------------------------------------------------------------------------------------------


def panel(unit: Unit, rng: Random) -> None:
    unit.noise.panel = True


def line(unit: Unit, rng: Random) -> None:
    unit.noise.line = True


def mount(unit: Unit, rng: Random) -> None:
    unit.noise.mount = True


FAULTS = {
    "panel-loose": panel,
    "line-touching": line,
    "mount-vibrating": mount,
}


# -- checks ------------------------------------------------------------------------------------------------------------


def noise_kind(unit: Unit, bench: Bench) -> None:
    noise = unit.noise
    if noise.panel:
        bench.say("rattle" if bench.rng.random() < 0.9 else "hum")
    elif noise.line or noise.mount:
        bench.say("hum" if bench.rng.random() < (0.85 if noise.line else 0.7) else "rattle")
    elif unit.air.wheel < 0.5 and bench.rng.random() < 0.3:
        bench.say("rattle")
    elif unit.circuit.strainer * unit.circuit.kink * unit.circuit.service_valve < 0.4 and bench.rng.random() < 0.5:
        bench.say("hiss")
    else:
        bench.say("tick" if bench.rng.random() < 0.15 else "none")


def _noisy(unit: Unit) -> bool:
    return unit.noise.panel or unit.noise.line or unit.noise.mount


def press_panels(unit: Unit, bench: Bench) -> None:
    bench.say("stops" if unit.noise.panel else "stays" if _noisy(unit) else "none")


def move_line(unit: Unit, bench: Bench) -> None:
    bench.say("stops" if unit.noise.line else "stays" if _noisy(unit) else "none")


def lean(unit: Unit, bench: Bench) -> None:
    bench.say("changes" if unit.noise.mount and bench.rng.random() < 0.9 else "stays" if _noisy(unit) else "none")


def mount_look(unit: Unit, bench: Bench) -> None:
    bench.say("no" if unit.noise.mount else "yes")


ANSWERS = {
    "noise-kind": noise_kind,
    "noise-press-panels": press_panels,
    "noise-move-line": move_line,
    "noise-lean-unit": lean,
    "noise-mount-look": mount_look,
}


# -- what the customer meets -------------------------------------------------------------------------------------------


SYMPTOMS = {
    "noise-rattle": lambda unit: 1.0 if _noisy(unit) else 0.0,
}
