"""A technician who is told what to check and answers with what the unit shows, mostly rightly."""

from __future__ import annotations

from collections.abc import Mapping
from random import Random

from assistant.language.meaning import Finding, Readings
from assistant.library.loader import Library
from assistant.library.models import Check
from assistant.reasoning.judges.case import Answer
from tests.simulation.bench import Bench
from tests.simulation.catalogue import ANSWERS
from tests.simulation.unit import Unit


class Technician:
    """Answers checks at one unit. ``wrong`` is the share of answers that are wrong: another choice, or a number read
    off by a factor, or an open line where there is none."""

    def __init__(self, library: Library, unit: Unit, rng: Random, wrong: float) -> None:
        self._library, self.unit, self._rng, self._wrong = library, unit, rng, wrong

    def answer(self, check: Check) -> Mapping[str, Answer]:
        """What is heard for each question of the check."""
        bench = Bench(check, dict(self._library.instruments), self._rng)
        ANSWERS[check.id](self.unit, bench)
        if self._rng.random() < self._wrong:
            key = self._rng.choice(sorted(bench.answers))
            bench.answers[key] = self._slip(check, key, bench.answers[key])
        return bench.answers

    def _slip(self, check: Check, key: str, answer: Answer) -> Answer:
        question = next(question for question in check.ask if question.key == key)
        if isinstance(answer, Finding):
            others = [choice.id for choice in question.choices if choice.id != answer.choice]
            return Finding(choice=self._rng.choice(others)) if others else answer
        if isinstance(answer, Readings) and question.reading is not None:
            items = list(answer.items)
            place = self._rng.randrange(len(items))
            value = items[place].value
            low, high = question.reading.plausible
            off = self._rng.choice([0.1, 0.5, 2.0, 10.0])
            new = self._rng.uniform(low, high) if not value else value * off
            items[place] = items[place].model_copy(
                update={"value": new, "spoken_value": new, "special": None, "span": None}
            )
            return Readings(items=tuple(items))
        return answer
