"""What a dangerous fault lets people smell, feel and hear; no fault and no check of its own."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.simulation.systems.drain import wet_wall

if TYPE_CHECKING:
    from tests.simulation.unit import Unit


def burnt(unit: Unit) -> float:
    """Heat has marked something: a clip, a terminal, a board."""
    hot = unit.compressor.terminals == "burnt" or unit.supply.terminal_brown or unit.power.marked
    return 0.3 if hot or unit.power.rectifier_shorted else 0.0


def tingles(unit: Unit) -> float:
    """A winding that leaks to a case without a good earth; most earths are good."""
    return 0.05 if unit.compressor.earth_mohm < 0.5 else 0.0


def alarm(unit: Unit) -> float:
    """A room sensor for a gas that burns hears a leak indoors; few units of these profiles have one."""
    return 0.05 if unit.circuit.leak.startswith("indoor") and unit.has("flammable") else 0.0


def soaked(unit: Unit) -> float:
    """Water that leaves the pan where it should not finds the electrics now and then."""
    return 0.05 if wet_wall(unit) > 0.5 else 0.0


FAULTS: dict[str, object] = {}
ANSWERS: dict[str, object] = {}
SYMPTOMS = {
    "smell-burnt": burnt,
    "smoke-seen": lambda unit: 0.3 * burnt(unit),
    "shock-from-case": tingles,
    "water-at-electrics": soaked,
    "refrigerant-alarm": alarm,
}
