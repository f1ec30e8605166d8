"""Hazards that latch: what bars power, flame, a hand inside or staying, until it is mended and measured again.

A hazard is raised by an outcome, a symptom, an emergency word or a procedure that failed. Nothing takes it away but
its clearing checks, measured anew, and where it asks for one a recorded repair that can be behind it. A correction of
the reading that raised it stands for the repair (there may have been nothing to mend), never for the new measurement.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from assistant.calculations.uncertainty import stands
from assistant.dialogue import facts as f
from assistant.dialogue.state import Latched, VisitState
from assistant.dialogue.turn import Turn
from assistant.library.demand import Demand
from assistant.library.kinds import Bar
from assistant.library.loader import Library
from assistant.library.models import Check
from assistant.library.profile import UnitProfile, features_of
from assistant.messages.message import known
from assistant.reasoning.judgement import Judgement


def bars(latched: Latched, library: Library) -> frozenset[Bar]:
    """What one latched hazard bars; a hazard that the knowledge no longer has bars everything."""
    hazard = library.hazards.get(latched.hazard)
    return frozenset(hazard.bars) if hazard else frozenset(("power", "flame", "touch", "stay"))


def lasts(latched: Latched, library: Library) -> bool:
    """Whether nothing within this visit clears it."""
    hazard = library.hazards.get(latched.hazard)
    return hazard is None or hazard.lasts


def barring(state: VisitState, library: Library, demand: Demand, clearing: Collection[str] = ()) -> Latched | None:
    """The hazard that bars a step with this demand, or None.

    ``clearing`` are checks that come before the step or are it: a hazard that they clear does not bar the way to
    them, or nothing could ever clear it. What lasts, lasts.
    """
    for latched in state.hazards:
        if bars(latched, library) & demand.hits and not _on_the_way(latched, library, clearing):
            return latched
    return None


def _on_the_way(latched: Latched, library: Library, clearing: Collection[str]) -> bool:
    """Whether what clears it may be measured: a check that wants power not before the repair that it is to prove."""
    return not (lasts(latched, library) or _unmended(latched, library)) and any(
        check in clearing for check, _ in latched.cleared_by
    )


def _unmended(latched: Latched, library: Library) -> bool:
    """Whether it bars power and waits for a repair that nobody has recorded: measuring again shows nothing new."""
    hazard = library.hazards[latched.hazard]
    return hazard.repair and "power" in hazard.bars and not (latched.mended or latched.disputed)


def raise_hazard(turn: Turn, hazard_id: str, by: str, cleared_by: dict[str, tuple[str, ...]] | None = None) -> None:
    """Latch a hazard with those that come along with it, and say what each forbids. One that stands is not said anew.

    ``by`` is the check, symptom or word that raised it; ``cleared_by`` what clears it in place of its own.
    """
    for name in (hazard_id, *turn.library.hazards[hazard_id].also):
        hazard = turn.library.hazards[name]
        clearing = (cleared_by if name == hazard_id else None) or hazard.cleared_by or _passing(turn.library, by)
        new = all(latched.hazard != name for latched in turn.state.hazards)
        if not hazard.bars:
            continue
        turn.emit(f.HazardRaised(hazard=name, by=by, cleared_by=tuple(clearing.items())))
        if new:
            turn.tell(known("hazards", name, "say"), "caution")


def _passing(library: Library, by: str) -> dict[str, tuple[str, ...]]:
    """By default the check that raised a hazard must pass."""
    check = library.checks.get(by)
    if check is None:
        return {}
    return {by: tuple(key for key, outcome in check.outcomes.items() if outcome.verdict == "pass")}


def follow(turn: Turn, check: Check, judgement: Judgement, fresh: bool, in_passing: bool = False) -> None:
    """What a judged check does to the hazards: raise its own, and clear those of which it is the last proof.

    ``fresh``: it was measured now; otherwise an earlier answer was corrected, which raises but never clears.
    ``in_passing``: it was told unasked, which raises and does nothing else.
    """
    told = check.outcomes.get(judgement.outcome)
    if not fresh and not in_passing:
        _shown_no_more(turn, check, judgement)
    if told is not None and told.hazard:
        raise_hazard(turn, told.hazard, check.id, told.cleared_by)
        return
    if in_passing:
        return
    if not fresh:
        for latched in turn.state.hazards:
            if latched.by == check.id:
                turn.emit(f.HazardDisputed(hazard=latched.hazard))
                turn.tell("hazard-measure-again", "caution", hazard=known("hazards", latched.hazard, "name"))
        return
    for latched in turn.state.hazards:
        if _clears(latched, check, judgement):
            _passed(turn, latched, check.id)


def _clears(latched: Latched, check: Check, judgement: Judgement) -> bool:
    """Whether the judgement frees from the hazard: beyond doubt, and not as the likeliest of what may be."""
    good = dict(latched.cleared_by).get(check.id)
    return good is not None and stands(dict(judgement.chances), good)


def _shown_no_more(turn: Turn, check: Check, judgement: Judgement) -> None:
    """An answer that freed from a hazard was corrected: what it does not free from any more stands again."""
    passed = [latched for latched in turn.state.hazards if check.id in latched.passed]
    for latched in (*passed, *turn.state.cleared):
        if check.id in dict(latched.cleared_by) and not _clears(latched, check, judgement):
            raise_hazard(turn, latched.hazard, latched.by, dict(latched.cleared_by))


def raise_told(turn: Turn, check: Check, outcome: str) -> None:
    """What was told in passing raises its hazard, whatever the visit is at, and clears none."""
    told = check.outcomes.get(outcome)
    if told is not None and told.hazard and all(latched.hazard != told.hazard for latched in turn.state.hazards):
        raise_hazard(turn, told.hazard, check.id, told.cleared_by)


def _passed(turn: Turn, latched: Latched, check_id: str) -> None:
    if lasts(latched, turn.library):
        return
    hazard = turn.library.hazards[latched.hazard]
    name = known("hazards", latched.hazard, "name")
    if hazard.repair and not (latched.mended or latched.disputed):
        turn.tell("hazard-not-mended", "caution", hazard=name)
        return
    turn.emit(f.HazardPassed(hazard=latched.hazard, check=check_id))
    if not still_needed(turn.state, latched.hazard, turn.library, turn.profile):
        turn.emit(f.HazardCleared(hazard=latched.hazard, by=check_id))
        turn.tell("hazard-cleared", "result", hazard=name)


def still_needed(state: VisitState, hazard_id: str, library: Library, profile: UnitProfile | None) -> tuple[str, ...]:
    """The checks that a latched hazard still wants, in order: those that this unit has and that have not passed."""
    latched = next((item for item in state.hazards if item.hazard == hazard_id), None)
    if latched is None:
        return ()
    features = features_of(profile) if profile else frozenset()
    wanted = [name for name, _ in latched.cleared_by if name in library.checks]
    here = [name for name in wanted if set(library.checks[name].needs) <= features] or wanted
    return tuple(name for name in here if name not in latched.passed)


def mended_by(turn: Turn, suspect: str) -> tuple[str, ...]:
    """The latched hazards that the repair of ``suspect`` can have mended: a cleaned drain mends no smell of burning."""
    return tuple(item.hazard for item in turn.state.hazards if suspect in _causes(item, turn.library, suspect))


def _causes(latched: Latched, library: Library, asked: str) -> set[str]:
    """The suspects that can be behind a hazard by the knowledge; ``asked`` alone where it names none.

    One is, when it shows the symptom of the hazard, or makes a check fail that raised it or clears it, or is confirmed
    or proved by that check.
    """
    hazard = library.hazards.get(latched.hazard)
    symptoms = {latched.by, hazard.symptom if hazard else None} & set(library.symptoms)
    checks = {latched.by, *(name for name, _ in latched.cleared_by)} & set(library.checks)
    found = {suspect for name in symptoms for suspect in library.symptoms[str(name)].shown_by}
    for name in checks:
        check = library.checks[name]
        found |= {
            suspect for suspect, row in check.tells.items() if _fails(check, row) > _fails(check, check.otherwise)
        }
        found |= {each.id for each in library.suspects.values() if name in (*each.confirm, *each.proof)}
    return found or {asked}


def _fails(check: Check, chances: Mapping[str, float]) -> float:
    """How likely it is that the check does not pass."""
    return sum(chance for name, chance in chances.items() if check.outcomes[name].verdict == "fail")


def wanted_proofs(turn: Turn) -> list[str]:
    """What a repair must be proved by for the sake of the hazards that stand."""
    out: list[str] = []
    for latched in turn.state.hazards:
        out += still_needed(turn.state, latched.hazard, turn.library, turn.profile)
    return list(dict.fromkeys(out))


def names(hazards: Iterable[Latched], library: Library) -> list[str]:
    """The hazards by name, as they are said in a list."""
    return [library.hazards[item.hazard].name if item.hazard in library.hazards else item.hazard for item in hazards]
