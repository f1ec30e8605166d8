"""The service record of a visit: a fold over its facts, ready to be rendered. Nothing here is spoken or judged."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from assistant.dialogue import facts as f
from assistant.dialogue.closing import left_as
from assistant.dialogue.hazards import bars
from assistant.dialogue.ledgers import known_refrigerant
from assistant.dialogue.state import VisitState
from assistant.dialogue.units import profile_called, unit_of, zone_name
from assistant.job.ledger import travelled_min, worked_s
from assistant.library.loader import Library
from assistant.messages.message import Message, Why
from assistant.record import answers, believed, job, lines, pictures, plain, seal
from assistant.record.course import Course, follow, zoned
from assistant.record.drawn import Picture
from assistant.record.model import Left, Record, Safety, UnitLine
from assistant.record.wording import words
from assistant.visit.reading import Stamped, VisitRow


def build(row: VisitRow, facts: Iterable[Stamped], library: Library, lost: int = 0, whole: bool = True) -> Record:
    """The record of the visit ``row`` from its journalled facts; ``lost`` counts those that could not be read.

    Not ``whole``: without weights, pictures, what was said and the content's hash, for lists of many visits.
    """
    stamped = list(facts)
    course = follow(stamped, library)
    state = course.state
    profile = unit_of(state, library)
    opened = next((x.fact for x in stamped if isinstance(x.fact, f.VisitOpened)), None)
    faults = tuple(lines.faults(stamped, state, library))
    repairs = tuple(lines.repairs(stamped, state, library))
    judged = tuple(answers.checks(course, library))
    given = tuple(answers.answers(stamped, course, library, judged))
    left = _left(stamped, course, library)
    not_checked = tuple(lines.not_checked(stamped, state, library))
    # A course that met no fault suspected nothing.
    searched = not state.job.course or any(isinstance(x.fact, f.SearchOpened) for x in stamped)
    weights = tuple(believed.steps(course, library)) if whole and searched else ()
    duties = tuple(job.duties(state, profile, library))
    drawn: list[Picture] = []
    summary = plain.summary(course, left, faults, repairs, given, judged, not_checked, duties, library)
    if whole:
        drawn = [*pictures.of(course, library, given, judged, weights, summary.pairs)]
        drawn += job.trends(state, given, row.opened_at.date().isoformat())
    record = Record(
        visit=row.id,
        origin=row.origin,
        opened_at=zoned(row.opened_at),
        ended_at=zoned(_ended(row, stamped)),
        closed=state.closing is not None,
        outcome=state.closing or "open",
        left=left,
        technician=state.technician,
        technicians=state.job.technicians or tuple(filter(None, [state.technician])),
        away_min=course.away_s / 60,
        site=state.note("site") or "",
        customer_note=state.note("customer") or "",
        unit=_unit(course, library),
        indications=tuple(lines.indications(state, library)),
        summary=summary,
        faults=faults,
        repairs=repairs,
        answers=given,
        checks=judged,
        not_checked=not_checked,
        energy=tuple(course.energy),
        holds=tuple(course.holds),
        cautions=tuple(lines.cautions(stamped, library)),
        calculations=tuple(lines.calculations(stamped)),
        suspects=weights,
        pictures=tuple(drawn),
        amendments=tuple(lines.amendments(stamped, given)),
        transcript=tuple(lines.transcript(stamped)) if whole else (),
        kind=state.job.visit_kind or "repair",
        customer=state.job.customer,
        worked_min=worked_s(state.job.ledger, stamped[-1].at_s if stamped else 0.0) / 60,
        travelled_min=travelled_min(state.job.ledger),
        notes=tuple(job.notes(state)),
        parts=tuple(job.parts(state, row.opened_at)),
        refrigerant=tuple(job.refrigerant(state, row.opened_at)),
        duties=duties,
        signatures=tuple(job.signatures(stamped)),
        photos=tuple(job.photos(state, row.opened_at, stamped)),
        library=opened.library if opened else "",
        lost=lost,
        seal=seal.of_facts(stamped),
    )
    return seal.sealed(record) if whole else record


def _ended(row: VisitRow, facts: list[Stamped]) -> datetime:
    """When it was closed; what was amended later is no part of the visit's time."""
    return next((x.at for x in facts if isinstance(x.fact, f.VisitClosed)), facts[-1].at if facts else row.opened_at)


def _unit(course: Course, library: Library) -> UnitLine:
    """The unit by its plate where that was told, else by its profile."""
    state, plate = course.state, course.state.job.plate
    profile = profile_called(library, state.profile or "", plate.zones)
    # A course that went from indoor unit to indoor unit is about them all.
    several = len({result.zone for result in state.results if result.zone}) > 1 and bool(state.job.course)
    make, model = (profile.make, profile.model) if profile else (plate.make, plate.model)
    zone = zone_name(profile, state.zone or "")
    named = f"{make} {model}".strip() or state.note("unit") or "no profile: general values"
    return UnitLine(
        name=f"{named}, {plate.name}" if plate.name else named,
        make=make,
        model=model,
        serial=plate.serial,
        zone="" if several else zone,
        refrigerant=known_refrigerant(state, profile) or "",
        charge_kg=plate.charge_kg or (profile.refrigerant.charge_kg if profile else None),
        data_from=profile.source if profile else "general values, each with its source",
    )


_HEADLINES: dict[Safety, str] = {
    "barred": "NOT SAFE. Do not use this unit.",
    "locked": "SWITCHED OFF AND LOCKED. Do not switch it on.",
    "apart": "NOT READY. Parts are off or the refrigerant circuit is open. Do not use this unit.",
    "open visit": "THE VISIT IS NOT FINISHED. Do not use this unit until the technician says so.",
    "in service": "In service. Nothing was found in this visit that bars its use.",
}


#: What was said to the technician at the end, as whoever else reads it is told.
_TO_OTHERS = {
    "left-proved-dead": "It is switched off and locked, and was measured free of voltage where work was done. "
    "Only the one whose lock it is takes it off.",
    "left-not-proved": "It is switched off and locked; nobody has measured that it is free of voltage. "
    "Only the one whose lock it is takes it off.",
    "left-not-locked": "It has no lock. Keep everyone from switching it on.",
}


def _told(said: Why, state: VisitState, library: Library) -> str:
    """A sentence about how the unit is left; one of an older journal as it stands."""
    if not isinstance(said, Message):
        return words(said, library)
    if said.id == "left-circuit" and state.circuit == ("recovered",):
        return "The refrigerant has been taken out."
    return _TO_OTHERS.get(said.id) or words(said, library)


def _left(facts: list[Stamped], course: Course, library: Library) -> Left:
    """How the unit is left, first of all: as it was said at the end, or as it stands in a visit that is open."""
    state = course.state
    closed = next((x.fact for x in reversed(facts) if isinstance(x.fact, f.VisitClosed)), None)
    left = left_as(state, library)
    # A visit that was closed before this was told says nothing: then it is as the facts have it.
    sentences = tuple(_told(each, state, library) for each in ((closed.left if closed else ()) or left))
    safety: Safety = "in service"
    if any(bars(hazard, library) for hazard in state.hazards):
        safety = "barred"
    elif state.power.locked or state.power.left:
        safety = "locked"
    elif state.off or state.circuit != ("charged",):
        safety = "apart"
    elif closed is None:
        safety = "open visit"
    names = [library.hazards[x.hazard].name if x.hazard in library.hazards else x.hazard for x in state.hazards]
    return Left(safety=safety, headline=_HEADLINES[safety], sentences=sentences, hazards=tuple(names))
