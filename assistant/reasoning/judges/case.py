"""One check with its answers, as a judge sees it, and the making of its judgement."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from assistant.errors import LaddersideError
from assistant.language.meaning import Finding, Quantity, Readings, Text
from assistant.library.models import Check, Question
from assistant.library.profile import UnitProfile
from assistant.reasoning.errors import ReasoningError
from assistant.reasoning.judgement import Judgement, Working
from assistant.reasoning.judges.values import Known, Measured, Shelf, known, measured

#: A judgement stands when its verdict has this chance: the one-sided end of a 95 % interval (GUM, k = 1.96).
STANDS_CHANCE = 0.975

Answer = Readings | Finding | Text


@dataclass(frozen=True)
class Case:
    """A check, the answers by question key, and where figures come from."""

    check: Check
    answers: Mapping[str, Answer]
    shelf: Shelf
    profile: UnitProfile | None
    folds: Mapping[str, str]

    def question(self, parameter: str) -> Question | None:
        """The question that the judge's parameter is tied to; None when the check has none for it."""
        key = self.check.judge.inputs.get(parameter)
        return next((question for question in self.check.ask if question.key == key), None)

    def readings(self, parameter: str) -> tuple[Measured, ...]:
        """The readings for a parameter in the order of the places asked; empty when none was given."""
        question = self.question(parameter)
        answer = self.answers.get(question.key) if question else None
        if question is None or not isinstance(answer, Readings):
            return ()
        order = [place.id for place in question.reading.places] if question.reading else []
        items = sorted(answer.items, key=lambda item: order.index(item.place) if item.place in order else len(order))
        return tuple(measured(item, question, self.shelf.instruments) for item in items)

    def reading(self, parameter: str) -> Measured | None:
        """The one reading for a parameter."""
        found = self.readings(parameter)
        return found[0] if found else None

    def choice(self, parameter: str) -> str | None:
        """The choice for a parameter."""
        question = self.question(parameter)
        answer = self.answers.get(question.key) if question else None
        return answer.choice if isinstance(answer, Finding) else None

    def limit(self, name: str, quantity: Quantity) -> Known | None:
        """A limit in canonical units; None when the check or the profile has none."""
        limit = self.check.judge.limits.get(name)
        return None if limit is None else known(limit, quantity, self.profile, self.shelf)

    def option(self, name: str, default: Any = None) -> Any:
        """An option of the judge."""
        return self.check.judge.options.get(name, default)

    def lists(self, outcome: str) -> bool:
        """The check has this outcome."""
        return outcome in self.check.outcomes

    # -- judgements --------------------------------------------------------------------------------------------

    def judged(
        self,
        chances: Mapping[str, float],
        says: str,
        working: Iterable[Working] = (),
        better: str = "",
        limits: Iterable[Known | None] = (),
        outcome: str = "",
    ) -> Judgement:
        """A judgement from the chances of the judge's own outcomes; those that the check lacks fold into others.

        ``limits`` are those used: if one is no figure of this unit's own, the sentence says so. ``outcome`` is given
        only where it must not be the likeliest one (safety).
        """
        folded = self._folded(chances)
        outcome = outcome or max(folded, key=lambda key: folded[key])
        verdicts: dict[str, float] = {}
        for key, chance in folded.items():
            verdict = self.check.outcomes[key].verdict
            verdicts[verdict] = verdicts.get(verdict, 0.0) + chance
        verdict = self.check.outcomes[outcome].verdict
        stands = verdicts[verdict] >= STANDS_CHANCE
        if any(limit is not None and limit.general for limit in limits):
            says = f"{says.rstrip('.')}, by general values."
        return Judgement(
            outcome=outcome,
            chances=tuple(folded.items()),
            verdict=verdict if stands else "undecided",
            says=says,
            working=tuple(working),
            better="" if stands else better,
        )

    def unknown(self, says: str, better: str) -> Judgement:
        """Nothing can be said: every outcome fits alike, so belief does not move."""
        outcomes = list(self.check.outcomes)
        even = 1.0 / len(outcomes)
        first = next((key for key in outcomes if self.check.outcomes[key].verdict == "undecided"), outcomes[0])
        return Judgement(
            outcome=first,
            chances=tuple((key, even) for key in outcomes),
            verdict="undecided",
            says=says,
            better=better,
        )

    def impossible(self, says: str, error: LaddersideError) -> Judgement:
        """The same for numbers that a calculation refuses; its reason is for the record, being long to say."""
        working = sum_of("numbers inside the calculation's range", "as given", "refused", str(error))
        return self.unknown(says, "Measure once more.").model_copy(update={"working": (working,)})

    def missing_limit(self, what: str) -> Judgement:
        """No figure to judge by."""
        return self.unknown(
            f"I have no figure for {what}, so I cannot judge it.", f"Look up {what} in the unit's manual."
        )

    def missing_reading(self, what: str = "reading") -> Judgement:
        """No number was given."""
        return self.unknown("There was no number to judge.", f"Take the {what} again with the probes held still.")

    def _folded(self, chances: Mapping[str, float]) -> dict[str, float]:
        folded = dict.fromkeys(self.check.outcomes, 0.0)
        for key, chance in chances.items():
            # A side without a limit has no chance, and the check need not list it.
            if chance > 0 or key in folded:
                folded[self._listed(key)] += chance
        total = sum(folded.values())
        return {key: chance / total for key, chance in folded.items()}

    def _listed(self, outcome: str) -> str:
        seen = [outcome]
        while outcome not in self.check.outcomes:
            outcome = self.folds.get(outcome, "")
            if not outcome or outcome in seen:
                raise ReasoningError(
                    f"Judge {self.check.judge.by} may answer {seen[0]}, which check {self.check.id} does not list."
                )
            seen.append(outcome)
        return outcome


def sum_of(formula: str, numbers: str, result: str, source: str) -> Working:
    """A line of working."""
    return Working(formula=formula, numbers=numbers, result=result, source=source)
