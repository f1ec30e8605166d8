"""The weights of the suspects over the visit: computed again from the verdicts that stood at each moment."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from assistant.dialogue.state import VisitState
from assistant.dialogue.units import unit_of
from assistant.library.loader import Library
from assistant.reasoning.belief import NONE_OF_THESE, TWO_FAULTS, Belief
from assistant.reasoning.errors import ReasoningError
from assistant.reasoning.reasoner import Reasoner
from assistant.reasoning.recurrence import MendedBefore
from assistant.record.course import Course, zoned
from assistant.record.drawn import Weight, WeightStep

#: So many suspects are kept of each step.
MOST = 6
_NAMES = {NONE_OF_THESE: "none of those known", TWO_FAULTS: "two faults at once"}

#: What was learnt, in order: what was mended before, a judged check with its chances, or the suspect that was mended.
_Learnt = tuple[str, tuple[tuple[str, float], ...]] | str | MendedBefore


def steps(course: Course, library: Library) -> Iterable[WeightStep]:
    """After each check that tells of suspects, and at the start of the search. Nothing where the ids are unknown."""
    search = _Search(course.state, library)
    if course.started is not None:
        yield from search.step(course.started[0], "", course.started[1])
    for moment in course.moments:
        if moment.fact.role != "changeover":
            check = moment.fact.check
            title = library.checks[check].title if check in library.checks else check
            yield from search.step(moment.at, title, moment.state)


class _Search:
    def __init__(self, end: VisitState, library: Library) -> None:
        self._library = library
        profile = unit_of(end, library)
        self._reasoner = Reasoner(library, profile) if profile else None
        self._known: dict[tuple[_Learnt, ...], Belief] = {}

    def step(self, at: datetime, title: str, state: VisitState) -> Iterable[WeightStep]:
        if self._reasoner is None:
            return
        try:
            ranked = self._reasoner.ranked(self._believed(state.symptoms, _learnt(state)))[:MOST]
        except ReasoningError:  # a check or suspect that the knowledge has no more
            return
        yield WeightStep(
            at=zoned(at),
            check=title,
            weights=tuple(Weight(suspect=key, name=self._name(key), share=share) for key, share in ranked),
        )

    def _believed(self, symptoms: tuple[str, ...], learnt: tuple[_Learnt, ...]) -> Belief:
        """Each belief is one before it and one thing more."""
        assert self._reasoner is not None
        if learnt not in self._known:
            if not learnt:
                belief = self._reasoner.start(symptom for symptom in symptoms if symptom in self._library.symptoms)
            else:
                before, newest = self._believed(symptoms, learnt[:-1]), learnt[-1]
                if isinstance(newest, MendedBefore):
                    belief = self._reasoner.recurring(before, newest.suspects)
                elif isinstance(newest, str):
                    belief = self._reasoner.after_repair(before, newest)
                else:
                    belief = self._reasoner.update(before, *newest)
            self._known[learnt] = belief
        return self._known[learnt]

    def _name(self, suspect: str) -> str:
        found = self._library.suspects.get(suspect)
        return found.name if found else _NAMES.get(suspect, suspect)


def _learnt(state: VisitState) -> tuple[_Learnt, ...]:
    """As the dialogue reckons it (``Turn.belief``)."""
    before = tuple(state.job.mended_lately)
    out: list[_Learnt] = [MendedBefore(before)] if before else []
    for place, result in enumerate(state.results):
        out += [suspect for suspect, at in state.mended if at == place]
        if result.role != "changeover":
            out.append((result.check, result.judgement.chances))
    return tuple(out)
