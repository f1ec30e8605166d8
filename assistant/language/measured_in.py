"""Numbers without their unit: in the visit's system of measurement, or, while that is not known, in one of two."""

from __future__ import annotations

from typing import Any

from assistant.language import units
from assistant.language.meaning import Expectation, Meaning, Reading, ReadingExpectation, Readings
from assistant.quantities.systems import System, system_of


def in_system(wanted: ReadingExpectation, system: System) -> ReadingExpectation:
    """``wanted`` with the unit that a bare number has in ``system``."""
    return wanted.model_copy(update={"unit": _unit_in(wanted, system)}) if system else wanted


def all_in_system(asked: Expectation, system: System) -> Expectation:
    """An expectation whose readings are in ``system`` where their unit is not said."""
    changed: dict[str, Any] = {}
    if asked.reading is not None:
        changed["reading"] = in_system(asked.reading, system)
    if asked.corrects is not None:
        changed["corrects"] = in_system(asked.corrects, system)
    return asked.model_copy(update=changed) if changed and system else asked


def _unit_in(wanted: ReadingExpectation, system: System) -> str:
    if system_of(wanted.unit, wanted.quantity) == system:
        return wanted.unit
    others = units.other_system(wanted.unit, wanted.quantity)
    if wanted.quantity == "vacuum":
        return next((unit for unit in others if unit == "micron"), wanted.unit) if system == "us" else wanted.unit
    return next((unit for unit in others if system_of(unit, wanted.quantity) == system), wanted.unit)


def could_be(meaning: Meaning | None, wanted: ReadingExpectation | None, system: System) -> tuple[Readings, ...]:
    """The two readings that numbers without a unit may be, the asked one first; () where there is no doubt."""
    if not isinstance(meaning, Readings) or wanted is None or system:
        return ()
    others = units.other_system(wanted.unit, wanted.quantity)
    if not others or not any(item.unit_assumed and (item.value or item.span) for item in meaning.items):
        return ()
    both = tuple(
        Readings(items=tuple(_read_in(unit, item) if item.unit_assumed else item for item in meaning.items))
        for unit in (wanted.unit, others[0])
    )
    low, high = wanted.plausible
    possible = [
        one
        for one in both
        if all(low <= value <= high for item in one.items for value in item.span or (item.value,) if value is not None)
    ]
    return both if len(possible) == len(both) else ()


def _read_in(symbol: str, item: Reading) -> Reading:
    """The same numbers, said to be in ``symbol``."""
    said, value, span = item.spoken_value, item.value, item.span
    if span is not None:
        low, high = (units.from_canonical(end, item.spoken_unit, item.quantity) for end in span)
        span = (units.to_canonical(low, symbol, item.quantity), units.to_canonical(high, symbol, item.quantity))
    if said is not None and value is not None:
        value = units.to_canonical(said, symbol, item.quantity)
    return item.model_copy(update={"value": value, "spoken_unit": symbol, "unit_assumed": False, "span": span})


def names_of_units(options: tuple[Meaning, ...]) -> tuple[str, str] | None:
    """The names of the two units where an either-or is about nothing else; None for any other."""
    found = [_only_unit(option) for option in options]
    if len(found) != 2 or None in found or found[0] == found[1]:
        return None
    first, last = found
    assert first is not None
    assert last is not None
    return _name(*first), _name(*last)


def _name(symbol: str, quantity: str) -> str:
    return units.unit(symbol, quantity).voiced[1]  # type: ignore[arg-type]


def units_said(options: tuple[Meaning, ...]) -> tuple[tuple[str, ...], ...] | None:
    """What may be said for each of the two units where an either-or is about nothing else; None for any other."""
    if names_of_units(options) is None:
        return None
    return tuple(_unit_said(*one) for option in options if (one := _only_unit(option)) is not None)


def units_assumed(told: Readings) -> tuple[str, ...]:
    """What may be said for the one unit that readings were taken to be in without its being said."""
    unit = _only_unit(told) if any(item.unit_assumed for item in told.items) else None
    return _unit_said(*unit) if unit is not None else ()


def _unit_said(symbol: str, quantity: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys((units.say(symbol, quantity), *units.unit(symbol, quantity).phrases)))  # type: ignore[arg-type]


def _only_unit(option: Meaning) -> tuple[str, str] | None:
    if not isinstance(option, Readings) or len({item.spoken_unit for item in option.items}) != 1:
        return None
    return option.items[0].spoken_unit, option.items[0].quantity
