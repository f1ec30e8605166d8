"""Calculations that can be asked aloud: their spoken names and what they take, from the catalogue."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import get_args

from assistant.language import units
from assistant.language.jsgf import Alt, Expansion, Tagged, phrase
from assistant.language.meaning import Quantity
from assistant.language.written import as_words


@dataclass(frozen=True)
class Parameter:
    """One number that a calculation takes; ``unit`` is assumed when none is said."""

    name: str
    quantity: Quantity
    unit: str
    phrases: tuple[str, ...]


@dataclass(frozen=True)
class Sum:
    """A calculation with at least one spoken name."""

    name: str
    phrases: tuple[str, ...]
    parameters: tuple[Parameter, ...]

    def parameter(self, name: str) -> Parameter | None:
        return next((one for one in self.parameters if one.name == name), None)


@lru_cache(maxsize=1)
def known() -> dict[str, Sum]:
    """Every calculation of the catalogue that has a spoken name, with those of its numbers that can be spoken."""
    from assistant.calculations.catalogue import CATALOGUE  # takes a while to load; only when a grammar is made

    quantities = {str(one): one for one in get_args(Quantity)}
    found: dict[str, Sum] = {}
    for entry in CATALOGUE.values():
        taken = [
            Parameter(
                one.name,
                quantities[one.quantity],
                _symbol(one.said_in, quantities[one.quantity]),
                tuple(dict.fromkeys(as_words(text) for text in (*one.spoken, one.name.replace("_", " ")))),
            )
            for one in entry.parameters
            if one.quantity in quantities
        ]
        if entry.spoken and taken:
            found[entry.name] = Sum(entry.name, tuple(as_words(text) for text in entry.spoken), tuple(taken))
    return found


def _symbol(said_in: str, quantity: Quantity) -> str:
    return units.unit(said_in, quantity).symbol if said_in else units.canonical(quantity)


@lru_cache(maxsize=1)
def rules() -> dict[str, Expansion]:
    """The rules <state.sum> and <state.parameter>."""
    named = Alt(tuple((1.0, Tagged(_any(one.phrases), f"sum {one.name}")) for one in known().values()))
    parameters: dict[str, dict[str, None]] = {}
    for one in known().values():
        for taken in one.parameters:
            parameters.setdefault(taken.name, {}).update(dict.fromkeys(taken.phrases))
    taking = Alt(tuple((1.0, Tagged(_any(tuple(said)), f"parameter {name}")) for name, said in parameters.items()))
    return {"sum": named, "parameter": taking}


def _any(phrases: tuple[str, ...]) -> Expansion:
    return Alt(tuple((1.0, phrase(text)) for text in phrases))
