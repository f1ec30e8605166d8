"""The errors of the calculation core, all of them.

    LaddersideError
    └── CalculationError      anything a calculation refuses
        ├── OutOfRange        a quantity outside what the formula or physics allows
        ├── Inconsistent      values that are each possible but not together
        ├── UnknownName       a calculation, parameter, refrigerant or method that does not exist
        ├── BadUnit           text that is no number, or a unit that the quantity does not have
        └── Missing           a value that the calculation cannot do without

Each text is one sentence naming the quantity, the value and what is allowed. Nothing is clamped in silence.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from assistant.errors import LaddersideError


class CalculationError(LaddersideError):
    """A calculation cannot be done with what it was given."""


class OutOfRange(CalculationError):
    """A quantity outside its allowed range.

    Attributes: ``quantity`` (plain words), ``value``, ``low`` and ``high`` (inclusive), ``unit``.
    """

    def __init__(self, quantity: str, value: float, low: float, high: float, unit: str) -> None:
        self.quantity, self.value, self.low, self.high, self.unit = quantity, value, low, high, unit
        shown = f"{value:.6g}" if math.isfinite(value) else str(value)
        after = f" {unit}" if unit not in {"", "1"} else ""
        super().__init__(f"{quantity} is {shown}{after}; allowed is {low:.6g} to {high:.6g}{after}.")


class Inconsistent(CalculationError):
    """Values that cannot be true together; the text says which and what to look at again."""


class UnknownName(CalculationError):
    """A name that is not in a closed list; the text gives the list."""

    def __init__(self, what: str, name: str, known: Iterable[str]) -> None:
        self.what, self.name, self.known = what, name, tuple(known)
        super().__init__(f"{what} {name!r} is not known; known are: {', '.join(self.known)}.")


class BadUnit(CalculationError):
    """Text that is no number, or a unit that the quantity does not have; the text says what may be given."""


class Missing(CalculationError):
    """A calculation was asked for without a value that it cannot do without; the text names it."""


def within(quantity: str, value: float, low: float, high: float, unit: str) -> float:
    """``value`` unchanged when it is a finite number in ``low`` to ``high`` (inclusive).

    Raises OutOfRange, naming quantity, value, allowed range and unit, otherwise (NaN and infinity too).
    """
    if not low <= value <= high:  # False for NaN
        raise OutOfRange(quantity, value, low, high, unit)
    return value
