"""Leading the search: the check that was named, or the best next one, or what can be said when there is none."""

from __future__ import annotations

from functools import lru_cache

from assistant.dialogue import facts as f
from assistant.dialogue import hazards
from assistant.dialogue.opening import lead_opening
from assistant.dialogue.past import point_out_repeat
from assistant.dialogue.proving import ground
from assistant.dialogue.running import blocked, start_or_change_over
from assistant.dialogue.settling import done_checks
from assistant.dialogue.telling import judge_told
from assistant.dialogue.turn import Turn
from assistant.dialogue.way import Ground, way_to_check, ways
from assistant.library.demand import procedures
from assistant.library.loader import Library
from assistant.library.models import Where
from assistant.messages.message import known, message
from assistant.reasoning.choice import Advice
from assistant.reasoning.conclusion import FOUND_CHANCE, Conclusion
from assistant.reasoning.standing import Ways

#: Above this chance a suspect that could not be named may be mended on the technician's own judgement.
EVEN = 0.5
#: While power is barred the search goes on with what is open without it, as long as a check there tells this much;
#: then comes what frees the power. Common practice, no source.
DEAD_GAIN_BITS = 0.3
#: What could not be answered comes once more when it tells so many times more for its time than the best check that is
#: left, and so many others were made meanwhile: what was under a cover may be in reach. Common practice, no source.
TELLS_TIMES, MADE_MEANWHILE = 2.0, 2
#: How often a check that would free the power is led to before the technician must ask for it.
MOST_TRIES = 3


def lead_search(turn: Turn) -> bool:
    """Diagnosis: the check that was named, what may free the power, the best next one, or the conclusion."""
    state = turn.state
    if state.asked_for is not None:
        why = "reason-taken-up" if state.asked_for in state.taken_up else "reason-asked"
        return start_or_change_over(turn, state.asked_for, "asked", message(why))
    if any(hazards.lasts(latched, turn.library) for latched in state.hazards):
        turn.tell("visit-ends-here", "caution")
        turn.emit(f.FaultNamed(suspect="", probability=0.0, reason=message("reason-emergency")))
        return False
    judge_told(turn)
    belief, done, there = turn.belief(), done_checks(turn), ways(ground(turn))
    not_now = barred_now(turn)
    steps = {name: way.steps for name, way in there.items()}
    advice = turn.reasoner.next_check(belief, done, not_now, state.energy, _whereabouts(turn), steps)
    named = turn.reasoner.named(belief, done, not_now, advice, frozenset(name for name, way in steps.items() if way))
    if named is not None and named[0] not in state.not_mended:
        _name_fault(turn, *named)
        return False
    if lead_opening(turn, belief, not_now):
        return False
    freeing = _freeing(turn, ground(turn))
    if freeing and not (advice is not None and advice.gain_bits >= DEAD_GAIN_BITS):
        role: f.Role = "changeover" if freeing in procedures(turn.library) else "diagnosis"
        return start_or_change_over(turn, freeing, role, message("reason-before-power"))
    if _take_up(turn, advice, not_now, steps):
        return False
    if advice is None:
        conclusion = turn.reasoner.conclusion(belief, done, not_now)
        found = conclusion.suspect if conclusion.kind == "found" else None
        if found is not None and found not in state.not_mended:
            _name_fault(turn, found, conclusion.probability)
        else:
            _admit_unsolved(turn, conclusion)
        return False
    reason = turn.reasoner.why(belief, advice)
    return start_or_change_over(turn, advice.check_id, "diagnosis", reason, again=advice.check_id in done)


def _take_up(turn: Turn, advice: Advice | None, not_now: frozenset[str], steps: Ways) -> bool:
    """Whether a check comes once more that could not be answered earlier: the likeliest fault lacks nothing else, or
    nothing else tells, or nearly so. What was out of reach under a closed cover may be in reach by now."""
    state = turn.state
    left = {name for name, _ in state.set_aside if name in state.skipped and name not in state.taken_up}
    there = ways(ground(turn))
    left = {name for name in left & there.keys() if there[name].bar is None and not blocked(turn, there[name])}
    if not left:
        return False
    wider = turn.reasoner.next_check(
        turn.belief(), done_checks(turn), not_now - left, state.energy, _whereabouts(turn), steps
    )
    if wider is None or wider.check_id not in left:
        return False
    meanwhile = len(state.results) - max(at for name, at in state.set_aside if name == wider.check_id)
    decides = advice is None or (
        meanwhile >= MADE_MEANWHILE and (wider.reason == "confirm" or _far_ahead(wider, advice))
    )
    if not decides:
        return False
    turn.tell("take-up", "remark", check=known("checks", wider.check_id, "title"))
    turn.emit(f.CheckAskedFor(check=wider.check_id, taken_up=True))
    return True


def _far_ahead(one: Advice, other: Advice) -> bool:
    """Whether the one tells several times as much a minute as the other."""
    return one.gain_bits / one.minutes >= TELLS_TIMES * other.gain_bits / other.minutes


def _freeing(turn: Turn, here: Ground) -> str:
    """The next check that a hazard wants which needs no repair first ("the breaker trips at once", gas in the room)."""
    tried, fresh = [result.check for result in turn.state.results], since_power(turn)
    for latched in turn.state.hazards:
        hazard = turn.library.hazards.get(latched.hazard)
        if hazard is None or hazard.lasts or (hazard.repair and not (latched.mended or latched.disputed)):
            continue
        for name in hazards.still_needed(turn.state, latched.hazard, turn.library, turn.profile):
            way = way_to_check(here, turn.check(name))
            open_ = way.bar is None and not blocked(turn, way) and name not in (*turn.state.skipped, *fresh)
            if open_ and tried.count(name) < MOST_TRIES:
                return name
    return ""


def since_power(turn: Turn) -> tuple[str, ...]:
    """The dead tests made since the unit last had power and stood: measured again they would say the same.

    A breaker that trips as it is closed gives no power. Time alone changes what is no dead test, as gas in a room.
    """
    since: list[str] = []
    for result in turn.state.results:
        check = turn.check(result.check)
        outcome = result.judgement.outcome
        powered = check.sets_energy.get(outcome) == "live" if check.sets_energy else check.may_energize
        dead = check.energy in ("isolated", "proved-dead")
        since = [] if powered else [*since, check.id] if dead else since
    return tuple(since)


def _name_fault(turn: Turn, suspect: str, probability: float) -> None:
    """Say what is at fault and how sure, with the failed check that showed it as the reason."""
    judged = (result.judgement for result in turn.state.results if result.role != "changeover")
    failed: list[f.Why] = [judgement.says for judgement in judged if judgement.verdict == "fail"]
    reason = failed[-1] if failed else message("reason-nothing-else")
    turn.emit(f.FaultNamed(suspect=suspect, probability=probability, reason=reason))
    name = known("suspects", suspect, "name")
    chance = min(99, round(100 * probability))
    if probability >= FOUND_CHANCE:
        turn.tell("fault-found", "result", suspect=name, percent=chance)
    else:
        turn.tell("fault-likeliest", "result", suspect=name, percent=chance)
    point_out_repeat(turn, suspect)


def _admit_unsolved(turn: Turn, conclusion: Conclusion) -> None:
    """No check is left that would tell: say honestly what remains possible, and what would still tell."""
    possible = [(key, chance) for key, chance in conclusion.remaining if key in turn.library.suspects][:2]
    remains = [
        message(how, suspect=known("suspects", key, "name"), percent=round(100 * chance))
        for how, (key, chance) in zip(("remains-first", "remains-then"), possible, strict=False)
    ] or [message("remains-none")]
    reason = remains[0] if len(remains) == 1 else message("two-sentences", first=remains[0], then=remains[1])
    likeliest = possible[0][0] if possible and possible[0][1] > EVEN else ""
    unable = frozenset(name for name, _ in turn.state.set_aside) & frozenset(turn.state.skipped)
    # What is barred here, by a hazard or by what is on again, is waited for no more than what nobody can reach.
    unable |= frozenset(name for name, way in ways(ground(turn)).items() if way.bar is not None)
    proved = not likeliest or turn.reasoner.proved_apart(turn.belief(), likeliest, unable)
    if likeliest in turn.state.not_mended or not proved:
        likeliest = ""  # a dear part is not thrown away on a guess
    turn.emit(f.FaultNamed(suspect="", probability=conclusion.probability, reason=reason, likeliest=likeliest))
    turn.tell("nothing-left", "result")
    for each in remains:
        turn.tell(each, "result")
    for latched in turn.state.hazards:
        if latched.hazard in turn.library.hazards:
            turn.tell("still-barred", "caution", hazard=known("hazards", latched.hazard, "name"))
    _would_tell(turn)


def _would_tell(turn: Turn) -> None:
    """The skipped check that would have told most; without one, only the fault itself can."""
    barred = frozenset(name for name, way in ways(ground(turn)).items() if way.bar is not None)
    never = procedures(turn.library) | barred
    advice = turn.reasoner.next_check(turn.belief(), done_checks(turn), never, turn.state.energy, _whereabouts(turn))
    if advice is None:
        turn.tell("would-tell-later", "remark")
    else:
        turn.tell("would-tell", "remark", check=known("checks", advice.check_id, "title"))


def take_likeliest(turn: Turn) -> None:
    """Mend what could not be named for certain, on the technician's own judgement; the record says whose it was."""
    suspect = turn.state.likeliest
    chance = dict(turn.reasoner.ranked(turn.belief())).get(suspect, 0.0)
    reason = message("reason-likeliest", percent=round(100 * chance))
    turn.emit(f.FaultNamed(suspect=suspect, probability=chance, reason=reason))
    turn.tell("on-your-judgement", "result")


def barred_now(turn: Turn) -> frozenset[str]:
    """Checks that cannot come next: skipped, procedures, barred by a hazard, or behind a procedure that was skipped."""
    there, done = ways(ground(turn)).items(), frozenset(done_checks(turn))
    skipped = frozenset(turn.state.skipped)
    closed = {name for name, way in there if way.bar is not None or not skipped.isdisjoint(way.steps)}
    waiting = ((name, way.still_on) for name, way in there if way.still_on)
    closed -= {name for name, on in waiting if taken_off_before(turn, name, done).issuperset(on)}
    return frozenset({*turn.state.skipped, *closed, *procedures(turn.library)})


def taken_off_before(turn: Turn, check_id: str, done: frozenset[str]) -> frozenset[str]:
    """What the checks take off that still come before this one: it waits for them, and nothing bars it."""
    return _off_before(turn.library, check_id, done)


@lru_cache(maxsize=2048)
def _off_before(library: Library, check_id: str, done: frozenset[str]) -> frozenset[str]:
    check = library.checks[check_id]
    ahead = [name for name in (*check.after, *check.only_if) if name not in done]
    off = {thing for name in ahead for thing in library.checks[name].takes_off}
    return frozenset(off.union(*(_off_before(library, name, done) for name in ahead)))


def _whereabouts(turn: Turn) -> Where:
    """Where the technician stands: at the last check that was tied to a place."""
    for result in reversed(turn.state.results):
        where = turn.check(result.check).where
        if where != "anywhere":
            return where
    return "indoor"
