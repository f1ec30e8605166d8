"""The reasoning of one visit to one unit: what the dialogue asks and is told."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence

import numpy as np

from assistant.library.models import Check, Where
from assistant.library.profile import UnitProfile, features_of
from assistant.messages.message import Message
from assistant.reasoning import belief as beliefs
from assistant.reasoning import explanation
from assistant.reasoning.belief import Belief, at_fault
from assistant.reasoning.choice import Advice, choose
from assistant.reasoning.conclusion import CLEARED_CHANCE, Conclusion, conclude, named, proved_apart, wanted_next
from assistant.reasoning.effort import DEFAULT_WAIT_MIN, UnitState, effort_of
from assistant.reasoning.likelihoods import Knowledge, table_of
from assistant.reasoning.opening import worth_asking_first
from assistant.reasoning.recurrence import recurring
from assistant.reasoning.standing import Ways, change_by_ways, change_of_state, standing
from assistant.reasoning.waiting import wait_minutes

__all__ = ["Advice", "Belief", "Chances", "Conclusion", "Reasoner"]

#: A look is over in this time; what takes longer opens something. Common practice, no source.
LONGEST_LOOK_MIN = 4.0

Chances = Mapping[str, float] | Iterable[tuple[str, float]]


class Reasoner:
    """Exact Bayesian reasoning over the suspects and checks that one unit can have.

    Holds nothing of the visit: every method takes the belief and gives a new one or an answer about it. Building it
    costs some milliseconds; one per visit. All methods raise ReasoningError for ids that the unit has not.
    """

    def __init__(self, library: Knowledge, profile: UnitProfile | None) -> None:
        self.library = library
        self.table = table_of(library, features_of(profile) if profile else frozenset())
        wait = wait_minutes(profile) if profile else DEFAULT_WAIT_MIN
        self.effort = effort_of(library.checks.values(), wait)
        self._procedure_minutes = {key: check.minutes for key, check in library.checks.items()}
        self._waits = {
            key: wait for key, item in library.checks.items() if item.proves == "outdoor" and item.absent == ("stored",)
        }
        self._looks = np.array([_is_look(library.checks[check]) for check in self.table.checks], dtype=bool)

    def start(self, symptoms: Iterable[str]) -> Belief:
        """Belief at the start of a visit, from what the unit shows; no symptom at all is allowed."""
        return beliefs.start(self.library, self.table, symptoms)

    def update(self, belief: Belief, check_id: str, chances: Chances) -> Belief:
        """Belief after the answer to a check; ``chances`` as in ``Judgement.chances``.

        A check of the library that this unit has no use for (a procedure, another unit's part) teaches nothing.
        """
        if check_id in self.library.checks and check_id not in self.table.check_at:
            return belief
        return beliefs.update(self.table, belief, check_id, dict(chances))

    def recurring(self, belief: Belief, mended: Iterable[str]) -> Belief:
        """Belief of a visit to a unit at which these suspects were mended before; before any answer."""
        return recurring(self.table, self.library.suspects, belief, mended)

    def after_repair(self, belief: Belief, suspect_id: str) -> Belief:
        """Belief when a suspect was mended and the proof failed: what was learnt stays, the mended one steps back."""
        return beliefs.after_repair(self.table, belief, suspect_id)

    def ranked(self, belief: Belief) -> list[tuple[str, float]]:
        """Suspects, "none-of-these" and "two-faults" with their chance, most likely first."""
        return beliefs.ranked(self.table, belief)

    def next_check(
        self,
        belief: Belief,
        done: Collection[str] = (),
        skipped: Collection[str] = (),
        energy: UnitState = "live",
        where: Where = "anywhere",
        ways: Ways | None = None,
    ) -> Advice | None:
        """The check to do next, or None when none is worth its time.

        ``done`` and ``skipped`` are check ids; answers in ``belief`` count as done. ``energy`` is the unit's state
        now and ``where`` the place of the technician. ``ways``: the procedures before each check as the places now
        are; without them the one state of the whole unit is planned with.
        """
        now = standing(self.table, belief, done, skipped, energy, where)
        if ways is None:
            change = change_of_state(self.table, self.effort, now)
        else:
            change = change_by_ways(self.table, ways, self._procedure_minutes, self._waits)
        away = frozenset(check for check, minutes in zip(self.table.checks, change.minutes, strict=True) if minutes > 0)
        lack = wanted_next(self.table, belief, done, skipped, away)
        return choose(self.table, self._looks, self.effort, belief, now, change, lack)

    def worth_asking_first(
        self, belief: Belief, checks: Sequence[str], done: Collection[str] = (), skipped: Collection[str] = ()
    ) -> tuple[str, ...]:
        """Those of the first questions that may be asked now and would tell something, in their order."""
        return worth_asking_first(self.table, belief, checks, done, skipped)

    def named(
        self,
        belief: Belief,
        done: Collection[str] = (),
        skipped: Collection[str] = (),
        advice: Advice | None = None,
        away: Collection[str] = (),
    ) -> tuple[str, float] | None:
        """The suspect that may be named and mended, with its chance; None while the search goes on.

        ``advice``: the check that would come next, against which mending at once is weighed. ``away``: the checks that
        need a change of state now; none of them is asked a second time before the naming.
        """
        ahead = advice.gain_bits / advice.minutes if advice is not None else None
        return named(self.table, belief, done, skipped, ahead=ahead, away=away)

    def proved_apart(self, belief: Belief, suspect_id: str, unable: Collection[str] = ()) -> bool:
        """Whether a suspect may be mended on the technician's judgement: nothing is thrown away, or what would look
        the same was cleared by its checks, but for those that cannot be made here (``unable``) where it is all but
        sure."""
        place = self.table.suspect_at[suspect_id]
        sure = float(at_fault(belief)[place]) >= CLEARED_CHANCE
        return proved_apart(self.table, belief, place, unable if sure else ())

    def conclusion(self, belief: Belief, done: Collection[str] = (), skipped: Collection[str] = ()) -> Conclusion:
        """Whether a suspect may be named, there is more to do, or nothing left that tells."""
        more = self.next_check(belief, done, skipped) is not None
        return conclude(self.table, belief, done, skipped, more)

    def why(self, belief: Belief, advice: Advice) -> Message:
        """One sentence under 25 words: what is most likely, what the check takes, what it would settle."""
        return explanation.why(self.library, self.table, belief, advice)

    def contradiction(self, belief_before: Belief, check_id: str, chances: Chances) -> str | None:
        """The earlier check whose answer clashes with this one, or None.

        Ask this check again first; if the answer stands, ask the earlier one again.
        """
        answered = dict(chances)
        if check_id in self.library.checks and check_id not in self.table.check_at:
            return None
        check = beliefs.known(self.table, check_id, answered)
        return explanation.contradiction(self.table, belief_before, check, answered)


def _is_look(check: Check) -> bool:
    """Answered by eye, ear or hand, nothing switched off, soon done."""
    measured = any(question.reading for question in check.ask)
    return check.energy in ("any", "live") and not measured and check.minutes <= LONGEST_LOOK_MIN
