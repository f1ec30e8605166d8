"""Where an answer is put together: true values in, readings as a meter shows them out."""

from __future__ import annotations

import math
from random import Random

from assistant.calculations.uncertainty import COVERAGE_95, Metered
from assistant.language.meaning import CANONICAL_UNIT, Finding, Reading, Readings
from assistant.library.models import Check, Instrument, Question
from assistant.reasoning.judges.case import Answer
from assistant.reasoning.judges.values import accuracy_of


class Bench:
    """Collects the answers of one check. ``rng`` is the meter's noise and the unit's unsteadiness.

    ``question`` may be left out where the check asks one question only.
    """

    def __init__(self, check: Check, instruments: dict[str, Instrument], rng: Random) -> None:
        self.check, self.rng = check, rng
        self.answers: dict[str, Answer] = {}
        self._instruments = instruments
        #: what each instrument is off in this check, in units of its common error: the same in all its readings
        self._off: dict[str, float] = {}

    def say(self, choice: str, question: str | None = None) -> None:
        """Answer with a choice; it must be one that the question offers."""
        asked = self._question(question)
        if choice not in {item.id for item in asked.choices}:
            raise AssertionError(f"{self.check.id} {asked.key} offers no {choice}")
        self.answers[asked.key] = Finding(choice=choice)

    def graded(self, value: float, *steps: tuple[str, float]) -> str:
        """The first grade whose upper end is above ``value``, as an eye that errs by some percent sees it."""
        seen = value * (1 + self.rng.gauss(0, 0.03))
        return next((name for name, end in steps if seen < end), steps[-1][0])

    def meter(self, value: float | None, question: str | None = None) -> None:
        """Answer with one number in the canonical unit; None is an open line."""
        asked = self._question(question)
        self.answers[asked.key] = Readings(items=(self._reading(asked, value, None),))

    def places(self, values: dict[str, float | None], question: str | None = None) -> None:
        """Answer with one number for each place."""
        asked = self._question(question)
        items = tuple(self._reading(asked, value, place) for place, value in values.items())
        self.answers[asked.key] = Readings(items=items)

    def jumping(self, low: float, high: float, question: str | None = None) -> None:
        """Answer with a display that jumps between two numbers."""
        asked = self._question(question)
        ends = sorted((self._noisy(asked, low), self._noisy(asked, high)))
        reading = self._reading(asked, sum(ends) / 2, None)
        self.answers[asked.key] = Readings(items=(reading.model_copy(update={"span": (ends[0], ends[1])}),))

    def _question(self, key: str | None) -> Question:
        if key is None:
            return self.check.ask[0]
        return next(question for question in self.check.ask if question.key == key)

    def _noisy(self, question: Question, value: float) -> float:
        if question.reading is None:
            raise AssertionError(f"{self.check.id} {question.key} asks for no reading")
        instrument = self._instruments[question.reading.instrument]
        reading = Metered(value, accuracy_of(instrument, question.reading.quantity))
        common = math.sqrt(max(0.0, reading.expanded**2 - reading.apart**2)) / COVERAGE_95
        off = self._off.setdefault(instrument.id, self.rng.gauss(0, 1))
        return value + common * off + self.rng.gauss(0, reading.apart / COVERAGE_95)

    def _reading(self, question: Question, value: float | None, place: str | None) -> Reading:
        if question.reading is None:
            raise AssertionError(f"{self.check.id} {question.key} asks for no reading")
        quantity = question.reading.quantity
        shown = None if value is None else self._noisy(question, value)
        if shown is not None and quantity in ("resistance", "capacitance", "length", "mass", "vacuum", "voltage_ac"):
            shown = max(0.0, shown)
        return Reading(
            quantity=quantity,
            value=shown,
            spoken_value=shown,
            spoken_unit=CANONICAL_UNIT[quantity],
            special="open_line" if shown is None else None,
            place=place,
        )
