"""How a voice says the signs of units that stand in a text. What there are stands in ``assistant.quantities``."""

from __future__ import annotations

from assistant.quantities.table import OTHER_SIGNS, units

#: Sign or symbol → (after one, after any other number). The earlier quantity of the table has a sign that two share.
UNITS: dict[str, tuple[str, str]] = {
    **{
        written: unit.voiced
        for unit in reversed(units())
        for written in (unit.symbol, *unit.signs)
        if unit.one and written != "1/K"
    },
    **OTHER_SIGNS,
}

#: Every spelling, longest first, so that "V DC" is found before "V".
SPELLINGS: tuple[str, ...] = tuple(sorted(UNITS, key=len, reverse=True))

#: Units whose numbers are preferred ones from a print (IEC 60063): "470" has no neighbour "417" to be told from.
_PRINTED = frozenset(written for unit in units() if unit.printed for written in (unit.symbol, *unit.signs))


def spoken_unit(symbol: str, singular: bool) -> str:
    """ "kΩ" → "kilohm" or "kilohms". KeyError for a symbol that is not in the table."""
    one, many = UNITS[symbol]
    return one if singular else many


def is_printed(symbol: str) -> bool:
    """Whether the number before it may be said plainly, for no meter shows it."""
    return symbol in _PRINTED
