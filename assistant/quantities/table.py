"""The one table of quantities: their units, how these are written, said and heard, and what each is worth."""

from __future__ import annotations

from assistant.quantities.electrical import ELECTRICAL
from assistant.quantities.mechanical import MECHANICAL
from assistant.quantities.thermal import THERMAL
from assistant.quantities.unit import Kind, Unit

#: By name, as code, knowledge and journal write it.
QUANTITIES: dict[str, Kind] = {**ELECTRICAL, **THERMAL, **MECHANICAL}

#: Signs that stand after a number in texts and belong to no measured quantity, or say more than the unit: as said
#: after one and after many.
OTHER_SIGNS: dict[str, tuple[str, str]] = {
    "V DC": ("volt DC", "volts DC"),
    "V AC": ("volt AC", "volts AC"),
    "A DC": ("amp DC", "amps DC"),
    "A AC": ("amp AC", "amps AC"),
    "Vdc": ("volt DC", "volts DC"),
    "VDC": ("volt DC", "volts DC"),
    "Vac": ("volt AC", "volts AC"),
    "VAC": ("volt AC", "volts AC"),
    "Adc": ("amp DC", "amps DC"),
    "Aac": ("amp AC", "amps AC"),
    "psig": ("P S I gauge", "P S I gauge"),
    "psia": ("P S I absolute", "P S I absolute"),
    "% RH": ("percent relative humidity", "percent relative humidity"),
    "°": ("degree", "degrees"),
    "µm": ("micron", "microns"),
    "dB": ("decibel", "decibels"),
    "AWG": ("gauge", "gauge"),
}


def units() -> tuple[Unit, ...]:
    """Every unit of every quantity, in the order of the table."""
    return tuple(unit for kind in QUANTITIES.values() for unit in kind.units)


def sign(symbol: str) -> str:
    """How the unit with this symbol is written for people; the symbol itself when no quantity has it."""
    return _SIGNS.get(symbol, symbol)


_SIGNS: dict[str, str] = {unit.symbol: unit.sign for unit in reversed(units())}
