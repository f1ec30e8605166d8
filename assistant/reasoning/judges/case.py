"""One check with its answers, as a judge sees it, and the making of its judgement."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from assistant.calculations import catalogue
from assistant.calculations.entry import Result, Value
from assistant.calculations.found import Found
from assistant.calculations.found import Limit as Bound
from assistant.calculations.uncertainty import Metered, stands
from assistant.errors import LaddersideError
from assistant.language.meaning import CANONICAL_UNIT, Finding, Quantity, Readings, Text
from assistant.library.models import Check, Question
from assistant.library.profile import UnitProfile
from assistant.messages.message import Amount, Message, Why, message
from assistant.reasoning.errors import ReasoningError
from assistant.reasoning.judgement import Judgement, Margin, Working
from assistant.reasoning.judges.values import Known, Measured, Shelf, known, measured

Answer = Readings | Finding | Text
Taken = Value | Measured | Known  # what a judge gives to a calculation
#: Under this chance an instrument rules an outcome out, however coarse it is.
RULED_OUT = 0.001


@dataclass(frozen=True)
class Case:
    """A check, the answers by question key, and where figures come from. ``altitude_m``: of the site, 0 unknown."""

    check: Check
    answers: Mapping[str, Answer]
    shelf: Shelf
    profile: UnitProfile | None
    folds: Mapping[str, str]
    altitude_m: float = 0.0
    #: the limits that the judge asked for, by name, for the record
    used: dict[str, Known] = field(default_factory=dict, compare=False)

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
        return tuple(measured(item, self.check, question, self.shelf.instruments) for item in items)

    def reading(self, parameter: str) -> Measured | None:
        """The one reading for a parameter."""
        found = self.readings(parameter)
        return found[0] if found else None

    def given(self, *parameters: str) -> list[Measured] | None:
        """The readings of several parameters; None when one of them has no number."""
        found = [reading for reading in (self.reading(name) for name in parameters) if reading and reading.there]
        return found if len(found) == len(parameters) else None

    def choice(self, parameter: str) -> str | None:
        """The choice for a parameter."""
        question = self.question(parameter)
        answer = self.answers.get(question.key) if question else None
        return answer.choice if isinstance(answer, Finding) else None

    def limit(self, name: str, quantity: Quantity) -> Known | None:
        """A limit in canonical units; None when the check or the profile has none."""
        given = self.check.judge.limits.get(name)
        limit = None if given is None else known(given, quantity, self.profile, self.shelf)
        if limit is not None:
            self.used[name] = limit
        return limit

    def limit_or(self, name: str, quantity: Quantity, usual: Bound) -> Known:
        """A limit of the check or the profile, else the usual one of the calculation."""
        limit = self.limit(name, quantity) or Known(float(usual), quantity, usual.source, usual.general)
        self.used[name] = limit
        return limit

    def option(self, name: str, default: Any = None) -> Any:
        """An option of the judge."""
        return self.check.judge.options.get(name, default)

    def lists(self, outcome: str) -> bool:
        """The check has this outcome."""
        return outcome in self.check.outcomes

    # -- sums --------------------------------------------------------------------------------------------------

    def run(self, calculation: str, values: Mapping[str, Taken]) -> Result:
        """A judgement of the catalogue with the visit's readings and limits; what is None is left to its default."""
        return catalogue.run(calculation, {k: _plain(v) for k, v in values.items() if v is not None}, self._known())

    def _known(self) -> dict[str, Value]:
        refrigerant = {"refrigerant": self.profile.refrigerant.name} if self.profile else {}
        return {**refrigerant, "altitude": self.altitude_m}

    # -- judgements --------------------------------------------------------------------------------------------

    def ran(
        self,
        result: Result,
        says: Why,
        names: Mapping[str, str] | None = None,
        limits: Iterable[Known | None] = (),
        quantity: Quantity | None = None,
        better: Message | None = None,
    ) -> Judgement:
        """The judgement of a calculation's result, its working the calculation's own. See ``found``."""
        found = _found(result)
        self._worked_out(result, quantity)
        return self.found(found, says, [_working(result)], names, limits, quantity, better)

    def _worked_out(self, result: Result, quantity: Quantity | None) -> None:
        """The limits that the calculation itself derived, for the record."""
        for answer in result.answers:
            if answer.name in ("low", "high") and isinstance(answer.value, float) and quantity is not None:
                self.used.setdefault(answer.name, Known(answer.value, quantity, result.source, False))

    def found(
        self,
        found: Found,
        says: Why,
        working: Iterable[Working] = (),
        names: Mapping[str, str] | None = None,
        limits: Iterable[Known | None] = (),
        quantity: Quantity | None = None,
        better: Message | None = None,
    ) -> Judgement:
        """The judgement of what a calculation found. ``names`` are the check's own words for its outcomes.

        An instrument that could not have passed a perfect part moves no belief between the outcomes that it cannot tell
        apart; what it rules out stays so (a coarse meter knows an open winding). ``quantity`` is that of the number
        judged, for the reading that would settle it, unless ``better`` names it.
        """
        limits = tuple(limits)
        if len(limits) == 2:
            for name, limit in zip(("low", "high"), limits, strict=True):
                if limit is not None and limit not in self.used.values():
                    self.used.setdefault(name, limit)
        better = better or (settling(found, quantity) if quantity else None)
        chances: dict[str, float] = {}
        for name, chance in found.chances.items():
            own = (names or {}).get(name, name)
            chances[own] = chances.get(own, 0.0) + chance
        if found.unfit:
            open_ = [name for name, chance in chances.items() if chance >= RULED_OUT and self.lists(name)]
            return self.unknown(says, better or "", open_).model_copy(update={"working": tuple(working)})
        outcome = (names or {}).get(found.told, found.told)
        judgement = self.judged(chances, says, working, better or "", limits, outcome)
        return judgement.model_copy(update={"margin": _margin(found, quantity)})

    def judged(
        self,
        chances: Mapping[str, float],
        says: Why,
        working: Iterable[Working] = (),
        better: Why = "",
        limits: Iterable[Known | None] = (),
        outcome: str = "",
    ) -> Judgement:
        """A judgement from the chances of the judge's own outcomes; those that the check lacks fold into others.

        ``limits`` are those used: if one is no figure of this unit's own, the sentence says so. ``outcome`` is given
        only where it must not be the likeliest one (safety).
        """
        folded = self._folded(chances)
        outcome = outcome or max(folded, key=lambda key: folded[key])
        verdict = self.check.outcomes[outcome].verdict
        alike = [key for key, listed in self.check.outcomes.items() if listed.verdict == verdict]
        settled = stands(folded, alike)
        if any(limit is not None and limit.general for limit in limits):
            says = message("by-general-values", says=says)
        return Judgement(
            outcome=outcome,
            chances=tuple(folded.items()),
            verdict=verdict if settled else "undecided",
            says=says,
            working=tuple(working),
            better="" if settled and verdict != "undecided" else better,
        )

    def unknown(self, says: Why, better: Why, fitting: Collection[str] = ()) -> Judgement:
        """Nothing can be said: every outcome fits alike, so belief does not move; with ``fitting`` only those do."""
        outcomes = list(self.check.outcomes)
        fits = [key for key in outcomes if key in fitting] or outcomes
        first = next((key for key in outcomes if self.check.outcomes[key].verdict == "undecided"), outcomes[0])
        return Judgement(
            outcome=first,
            chances=tuple((key, 1.0 / len(fits) if key in fits else 0.0) for key in outcomes),
            verdict="undecided",
            says=says,
            better=better,
        )

    def impossible(self, says: Message, error: LaddersideError) -> Judgement:
        """The same for numbers that a calculation refuses; its reason is for the record, being long to say."""
        working = sum_of("numbers inside the calculation's range", "as given", "refused", str(error))
        return self.unknown(says, message("measure-once-more")).model_copy(update={"working": (working,)})

    def missing_limit(self, what: str, sensor: str = "") -> Judgement:
        """No figure to judge by. ``what`` is one of those that the message ``figure`` names."""
        figure = message("figure", what=what, sensor=sensor)
        return self.unknown(message("no-figure", figure=figure), message("look-up", figure=figure))

    def missing_reading(self, what: str = "reading") -> Judgement:
        """No number was given. ``what`` is one of those that the message ``take-again`` names."""
        return self.unknown(message("no-number-to-judge"), message("take-again", what=what))

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


def _plain(value: Taken) -> Value:
    """What the catalogue takes: a reading with its meter, a limit with its source."""
    if isinstance(value, Measured):
        return value.metered
    return value.bound if isinstance(value, Known) else value


def _found(result: Result) -> Found:
    if result.found is None:
        raise ReasoningError(f"The calculation {result.name} judges nothing.")
    return result.found


def _working(result: Result) -> Working:
    """The calculation's own working as it stands in the record."""
    found, first = _found(result), result.answers[0]
    numbers = [a for a in result.answers if a.expanded is not None] or [first]
    parts = [f"{a.about} {a.text_with_uncertainty}" for a in numbers if a.quantity != "word"]
    chance = 100 * found.chances[found.outcome]
    return Working(
        formula=result.formula,
        numbers=result.numbers,
        result="; ".join([*parts, f"{found.outcome}, {chance:.0f} percent sure"]),
        source=result.source,
    )


def _margin(found: Found, quantity: Quantity | None) -> Margin | None:
    """The distance to the nearest limit; temperatures differ by kelvins."""
    if found.against is None or quantity is None:
        return None
    kind: Quantity = "temperature_difference" if quantity == "temperature" else quantity
    unit = CANONICAL_UNIT[kind]
    return Margin(value=found.against.margin, expanded=found.against.expanded, quantity=kind, unit=unit)


def settling(found: Found, quantity: Quantity) -> Message | None:
    """The reading that would settle an undecided judgement, in the canonical unit; None when it is decided."""
    against = found.against
    if against is None or against.verdict != "undecided":
        return None
    if against.settling == 0:
        return message("on-the-limit")
    kind: Quantity = "temperature_difference" if quantity == "temperature" else quantity
    good, now = (_two_figures(width, kind) for width in (against.settling, against.expanded))
    return message("better-reading", good=good, now=now)


def _two_figures(value: float, quantity: Quantity) -> Amount:
    return Amount(quantity=quantity, value=float(f"{value:.2g}"), unit=CANONICAL_UNIT[quantity])


def sum_of(formula: str, numbers: str, result: str, source: str) -> Working:
    """A line of working."""
    return Working(formula=formula, numbers=numbers, result=result, source=source)


def told(reading: Measured) -> str:
    """A reading in words with its ±, for the working."""
    metered: Metered = reading.metered
    if metered.open or not metered.expanded:
        return reading.spoken()
    return f"{reading.spoken()} ± {reading.width(metered.expanded)}"
