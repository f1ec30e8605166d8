"""A voltage that is told with its unit, whatever is asked: who reads one where none should be says it so."""

from __future__ import annotations

from assistant.language.interpret import interpret
from assistant.language.meaning import Expectation, Meaning, ReadingExpectation, Readings
from assistant.language.scope import Scope
from assistant.language.within import reading_within

_HIGHEST_V = 1000.0
_ANY_VOLTAGE = Expectation(
    question="volts",
    reading=ReadingExpectation(quantity="voltage_ac", unit="V", plausible=(-_HIGHEST_V, _HIGHEST_V)),
)


def volts_told(words: str) -> float | None:
    """The greatest voltage that ``words`` tell of, in V; None where they name none or no unit of it."""
    within = reading_within(words, Scope(_ANY_VOLTAGE))
    told = _volts(interpret(words, _ANY_VOLTAGE).meaning) or (_volts(within.meaning) if within is not None else [])
    return max(told, default=None)


def _volts(meaning: Meaning | None) -> list[float]:
    items = meaning.items if isinstance(meaning, Readings) else ()
    return [abs(item.value) for item in items if item.value is not None and not item.unit_assumed]
