"""Which unit a piece of writing means: "kΩ", "KOHM", "deg F", "kPa(g)", "in. Hg", "mTorr"."""

from __future__ import annotations

import re
from functools import lru_cache

from assistant.errors import LaddersideError
from assistant.quantities.table import QUANTITIES
from assistant.quantities.unit import Kind, Unit

_SIGNS = str.maketrans(
    {
        "\N{OHM SIGN}": "\N{GREEK CAPITAL LETTER OMEGA}",
        "\N{GREEK SMALL LETTER MU}": "u",
        "\N{MICRO SIGN}": "u",
        "²": "2",
        "³": "3",
        "℃": "°C",
        "℉": "°F",
        "″": '"',
        "”": '"',
    }
)
#: Left out before comparing: "in. w.c." is "inwc", "N·m" is "Nm", "kPa(g)" is "kPag".
_LEFT_OUT = re.compile(r"[\s.·()\[\]*_-]")
_GAUGE = re.compile(r"(?:gauge|gage|ga|g)$", re.IGNORECASE)
_AIR = "101.3 kPa or 14.7 psi"
_ABSOLUTE = re.compile(r"(?:absolute|abs|a)$", re.IGNORECASE)


#: What a quantity is called where its name, said with spaces, is not it.
_CALLED = {
    "pressure_gauge": "gauge pressure",
    "pressure_absolute": "absolute pressure",
    "voltage_ac": "AC voltage",
    "voltage_dc": "DC voltage",
}


def called(quantity: str) -> str:
    """A quantity's name for people: "gauge pressure", "mass"."""
    return _CALLED.get(quantity, quantity.replace("_", " "))


class UnitError(LaddersideError):
    """A unit that the quantity has not, or a spelling that may mean two units."""


class DoubtfulUnit(UnitError):
    """A spelling that may mean two units; ``either`` are ways to write them that mean one."""

    def __init__(self, written: str, either: tuple[str, ...]) -> None:
        self.either = either
        super().__init__(f"“{written}” may mean {' or '.join(either)}; write which.")


class WrongReference(UnitError):
    """A gauge pressure where an absolute one is asked for, or the other way round."""


def unit_of(quantity: str, written: str) -> Unit:
    """The unit of ``quantity`` that ``written`` means, in any case where only one can be meant.

    Raises UnitError, DoubtfulUnit or WrongReference; KeyError for a quantity that the table has not.
    """
    kind = QUANTITIES[quantity]
    spelled = _plain(written)
    found = _exact(quantity).get(spelled)
    if found is not None:
        return found
    if quantity in ("pressure_gauge", "pressure_absolute", "vacuum") and _units(kind, spelled.casefold()) == ():
        return _referred(quantity, written, spelled)
    return _only(quantity, kind, written, spelled)


def unit_in_name(name: str) -> str:
    """The symbol of the unit that a field's name ends with ("charge_kg", "added_g_per_m", "min_mohm"); "" for none.

    Names are written small: "mohm" is megohms in one, for no field holds milliohms.
    """
    words = name.split("_")
    endings = ("_".join(words[start:]) for start in range(1, len(words)))
    return next((found for ending in endings if (found := _in_names().get(ending))), "")


@lru_cache(maxsize=1)
def _in_names() -> dict[str, str]:
    found = {"percent": "%", "c": "degC", "f": "degF", "mohm": "Mohm"}
    for kind in QUANTITIES.values():
        for unit in kind.units:
            found.setdefault(unit.symbol.casefold().replace("/", "_per_"), unit.symbol)
    return found


def _only(quantity: str, kind: Kind, written: str, spelled: str) -> Unit:
    folded = spelled.casefold()
    if folded in kind.doubtful:
        raise DoubtfulUnit(written, kind.doubtful[folded])
    units = _units(kind, folded)
    if len(units) == 1:
        return units[0]
    if units:
        raise DoubtfulUnit(written, tuple(unit.one for unit in units))
    fits = ", ".join(unit.symbol for unit in kind.units)
    raise UnitError(f"“{written}” is not a unit of {called(quantity)}; it may be given in {fits}.")


def _referred(quantity: str, written: str, spelled: str) -> Unit:
    """A pressure with its reference after the unit: "psig", "kPa abs"."""
    kind = QUANTITIES[quantity]
    for ending, fits, wrong in (
        (
            _GAUGE,
            quantity == "pressure_gauge",
            "a gauge pressure, but an absolute pressure is asked for: add the air's to it",
        ),
        (
            _ABSOLUTE,
            quantity != "pressure_gauge",
            "an absolute pressure, but a gauge pressure is asked for: take the air's off it",
        ),
    ):
        units = _units(kind, ending.sub("", spelled).casefold()) if ending.search(spelled) else ()
        if units and not fits:
            raise WrongReference(f"{written.strip()} is {wrong}, {_AIR} at sea level.")
        if units:
            return units[0]
    return _only(quantity, kind, written, spelled)


def _plain(written: str) -> str:
    return _LEFT_OUT.sub("", written.strip().translate(_SIGNS).replace("°", "deg"))


@lru_cache(maxsize=64)
def _exact(quantity: str) -> dict[str, Unit]:
    """Every spelling as it stands, the earlier unit first."""
    found: dict[str, Unit] = {}
    for unit in QUANTITIES[quantity].units:
        for spelled in (unit.symbol, *unit.signs, unit.one, unit.many, *unit.phrases, *unit.written):
            found.setdefault(_plain(spelled), unit)
    return found


def _units(kind: Kind, folded: str) -> tuple[Unit, ...]:
    """The units that a spelling may mean, whatever its case."""
    return tuple(
        unit
        for unit in kind.units
        if any(
            _plain(spelled).casefold() == folded
            for spelled in (unit.symbol, *unit.signs, unit.one, unit.many, *unit.phrases, *unit.written)
        )
    )
