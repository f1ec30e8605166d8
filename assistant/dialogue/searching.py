"""Leading the search: the check that was named, or the best next one, or what can be said when there is none."""

from __future__ import annotations

from assistant.dialogue import facts as f
from assistant.dialogue import phrases
from assistant.dialogue.energy import PROCEDURES, changeover
from assistant.dialogue.running import done_checks, start_or_change_over
from assistant.dialogue.turn import Turn
from assistant.library.models import Energy, Where
from assistant.reasoning.conclusion import FOUND_CHANCE, Conclusion

#: Above this chance a suspect that could not be named may be mended on the technician's own judgement.
EVEN = 0.5


def lead_search(turn: Turn) -> bool:
    """Diagnosis: the check that was named, or the best next one, or the conclusion."""
    state = turn.state
    if state.asked_for is not None:
        return start_or_change_over(turn, state.asked_for, "asked", "You asked for it.")
    belief, done, not_now = turn.belief(), done_checks(turn), _not_now(turn)
    named = turn.reasoner.named(belief, done, not_now)
    if named is not None:
        _name_fault(turn, *named)
        return False
    advice = turn.reasoner.next_check(belief, done, not_now, state.energy, _whereabouts(turn))
    if advice is None:
        conclusion = turn.reasoner.conclusion(belief, done, not_now)
        if conclusion.kind == "found" and conclusion.suspect is not None:
            _name_fault(turn, conclusion.suspect, conclusion.probability)
        else:
            _admit_unsolved(turn, conclusion)
        return False
    reason = turn.reasoner.why(belief, advice)
    return start_or_change_over(turn, advice.check_id, "diagnosis", reason, again=advice.check_id in done)


def _name_fault(turn: Turn, suspect: str, probability: float) -> None:
    """Say what is at fault and how sure, with the failed check that showed it as the reason."""
    failed = [r.judgement.says for r in turn.state.results if r.judgement.verdict == "fail" and r.role != "changeover"]
    reason = failed[-1] if failed else "The checks leave nothing else."
    turn.emit(f.FaultNamed(suspect=suspect, probability=probability, reason=reason))
    name = turn.library.suspects[suspect].name
    chance = min(99, round(100 * probability))
    if probability >= FOUND_CHANCE:
        turn.say(phrases.sentence(f"The fault is found: {name}"), "result")
        turn.say(f"I am {chance} percent sure.", "result")
    else:
        turn.say(f"No check tells more. Most likely {name}, {chance} percent.", "result")
        turn.say("The repair and its proof will tell.", "result")


def _admit_unsolved(turn: Turn, conclusion: Conclusion) -> None:
    """No check is left that would tell: say honestly what remains possible, and what would still tell."""
    possible = [(key, chance) for key, chance in conclusion.remaining if key in turn.library.suspects][:2]
    shares = [f"{turn.library.suspects[key].name}, {round(100 * chance)} percent." for key, chance in possible]
    still = [f"{how} {share}" for how, share in zip(("Most likely", "Then"), shares, strict=False)]
    still = still or ["The fault is none of those I know."]
    likeliest = possible[0][0] if possible and possible[0][1] > EVEN else ""
    turn.emit(f.FaultNamed(suspect="", probability=conclusion.probability, reason=" ".join(still), likeliest=likeliest))
    for each in ("No check is left that would tell more now.", *still):
        turn.say(each, "result")
    turn.say(_would_tell(turn), "remark")


def _would_tell(turn: Turn) -> str:
    """The skipped check that would have told most; without one, only the fault itself can."""
    advice = turn.reasoner.next_check(
        turn.belief(), done_checks(turn), frozenset(PROCEDURES), turn.state.energy, _whereabouts(turn)
    )
    if advice is None:
        return "The same checks would tell while the fault shows itself."
    return f"This was skipped and would tell: {turn.check(advice.check_id).title.lower()}."


def take_likeliest(turn: Turn) -> None:
    """Mend what could not be named for certain, on the technician's own judgement; the record says whose it was."""
    suspect = turn.state.likeliest
    chance = dict(turn.reasoner.ranked(turn.belief())).get(suspect, 0.0)
    reason = f"The technician took the likeliest suspect; the checks gave it {round(100 * chance)} percent."
    turn.emit(f.FaultNamed(suspect=suspect, probability=chance, reason=reason))
    turn.say("On your judgement then; the record says so.", "result")


def _not_now(turn: Turn) -> frozenset[str]:
    """Checks that cannot come next: skipped, procedures, or behind a changeover that was skipped."""
    skipped = set(turn.state.skipped)
    needs: tuple[Energy, ...] = ("any", "live", "isolated", "proved-dead")
    barred = {need for need in needs if skipped.intersection(changeover(turn.state.energy, need))}
    blocked = {check.id for check in turn.library.checks.values() if check.energy in barred} if barred else set()
    return frozenset(skipped | blocked | set(PROCEDURES))


def _whereabouts(turn: Turn) -> Where:
    """Where the technician stands: at the last check that was tied to a place."""
    for result in reversed(turn.state.results):
        where = turn.check(result.check).where
        if where != "anywhere":
            return where
    return "indoor"
