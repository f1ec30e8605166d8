"""Units as they are said behind a number: of the quantity that was asked, and of any other."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from assistant.language import soundalikes
from assistant.language.jsgf import Alt, Expansion, Ref, Seq, Tagged
from assistant.language.meaning import Quantity, ReadingExpectation
from assistant.language.said_words import SaidWord, longest
from assistant.language.sources import shipped, strings
from assistant.language.written import ABBREVIATIONS

VOLTAGES: tuple[Quantity, ...] = ("voltage_ac", "voltage_dc")
#: Quantities whose units are so plain that a number with them is no answer to a question for another.
_OTHERS: tuple[Quantity, ...] = (
    "voltage_ac",
    "current",
    "resistance",
    "pressure_gauge",
    "vacuum",
    "speed",
    "temperature",
    "length",
    "mass",
    "duration",
    "frequency",
    "percent",
)


def unit_at(row: Sequence[SaidWord], at: int, expected: ReadingExpectation, own: bool = False) -> tuple[str, str, int]:
    """The unit at ``at``, the other quantity that it belongs to ("" for the one asked), and where it ends.

    ``own``: only a unit of the quantity that was asked.
    """
    start = at
    for filler in (("of", "a"), ("of", "an"), ("a",), ("an",)):
        if tuple(item.text for item in row[at : at + len(filler)]) == filler:
            start = at + len(filler)
            break
    symbol, end = longest(row, start, unit_phrases(expected.quantity))
    if symbol is not None and not row[start : start + 1][0].stop:
        return symbol, "", end
    if own:
        return "", "", at
    for quantity in _OTHERS:
        if quantity == expected.quantity or (quantity in VOLTAGES and expected.quantity in VOLTAGES):
            continue
        symbol, end = longest(row, start, unit_phrases(quantity))
        if symbol is not None and not row[start].stop and (len(row[start].text) > 2 or symbol in ("degF", "degC")):
            return symbol, quantity, end
    return "", "", at


@lru_cache(maxsize=32)
def unit_phrases(quantity: Quantity) -> dict[str, str]:
    """Every way to say a unit of this quantity, and its abbreviations as they are written, with its symbol."""
    found: dict[str, str] = {}
    for text, symbol in _tagged(Ref(f"units.{quantity}"), "units"):
        found.setdefault(text, symbol)
    for short, long in ABBREVIATIONS.items():
        if long in found:
            found.setdefault(short, found[long])
    return found


def _tagged(what: Expansion, grammar: str) -> list[tuple[str, str]]:
    """Every string of an expansion with the unit that it is tagged with, words after the tag included: "volts dc"."""
    find = shipped().lookup({})
    if isinstance(what, Ref):
        return _tagged(*find(what.name, grammar))
    if isinstance(what, Tagged):
        return [(text, what.tag.removeprefix("unit ")) for text in strings(what.item, find, grammar)]
    if isinstance(what, Alt):
        return [pair for _, item in what.items for pair in _tagged(item, grammar)]
    if isinstance(what, Seq):
        tails = strings(Seq(what.items[1:]), find, grammar)
        heads = _tagged(what.items[0], grammar)
        return [(f"{text} {tail}".strip(), symbol) for text, symbol in heads for tail in tails]
    return []


@lru_cache(maxsize=1)
def unit_words() -> frozenset[str]:
    return frozenset(text.split()[0] for quantity in _OTHERS for text in unit_phrases(quantity)) - {"a", "in", "s"}


@lru_cache(maxsize=1)
def respelt() -> dict[str, str]:
    """Unit words as they are misspelt, or spelt the British way, with the word meant: "metres", "mikes"."""
    known = unit_words()
    return {
        written: meant
        for written, words in soundalikes.shipped().same.items()
        for meant in words
        if len(meant) > 2 and meant in known and written not in known and " " not in written
    }
