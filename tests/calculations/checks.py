"""The kinds of outside check, the marks that carry them, and the rows of ``tests/reference``."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterable
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import pytest

REFERENCE = Path(__file__).parent.parent / "reference"

#: kind: what it means. "library" values are computed in the test; "memory" ones were not seen while writing.
KINDS = {
    "standard": "published standard, law or its reprint",
    "handbook": "handbook, textbook or table of constants",
    "example": "worked example that somebody published",
    "data": "published data set or data sheet",
    "library": "general library run in the test",
    "formula": "the same formula with a published, rounded constant (not counted: it can only catch a slip)",
    "verdict": "a published limit, the verdict word worked out by the author (not counted)",
    "memory": "from memory (not counted)",
}
#: The kinds that say something that the author did not.
OUTSIDE = ("standard", "handbook", "example", "data", "library")

MARK_OUTSIDE, MARK_PROPERTY = "outside", "property_of"


class Row(NamedTuple):
    """One outside value: ``inputs`` and ``expected`` are text with units, as on the command line.

    ``tolerance`` is "0.5%" of the value, or a value with a unit; a word must agree exactly and has none. ``output``
    may also name a parameter with a default: then that default is the published figure.
    """

    calculation: str
    inputs: str
    output: str
    expected: str
    tolerance: str
    kind: str
    source: str
    file: str
    line: int

    @property
    def pairs(self) -> dict[str, str]:
        """The inputs by name."""
        return dict(part.strip().split("=", 1) for part in self.inputs.split(";"))


def rows() -> list[Row]:
    """Every row of every file in ``tests/reference``."""
    found = []
    for path in sorted(REFERENCE.glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as file:
            for line, record in enumerate(csv.DictReader(file), start=2):
                found.append(Row(**record, file=path.name, line=line))
    return found


def row_params() -> list[Any]:
    """The rows as parameters, each marked with its calculation and kind."""
    return [
        pytest.param(row, id=f"{row.file}:{row.line}", marks=pytest.mark.outside(row.calculation, row.kind))
        for row in rows()
    ]


def library(calculation: str, values: Iterable[Any]) -> Callable[[Any], Any]:
    """Parametrise a test over ``values`` (one tuple of arguments each); each is one check against a library."""
    params = [
        pytest.param(*(v if isinstance(v, tuple) else (v,)), marks=pytest.mark.outside(calculation, "library"))
        for v in values
    ]

    def wrap(function: Any) -> Any:
        code = function.__code__
        names = code.co_varnames[: code.co_argcount]
        return pytest.mark.parametrize(names, params)(function)

    return wrap


@cache
def pint_registry() -> Any:
    """pint's units, read once."""
    import pint

    return pint.UnitRegistry()


def property_of(*calculations: str) -> Callable[[Any], Any]:
    """Mark a test as a property of these calculations."""

    def wrap(function: Any) -> Any:
        for calculation in calculations:
            function = pytest.mark.property_of(calculation)(function)
        return function

    return wrap
