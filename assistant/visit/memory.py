"""Earlier visits as the dialogue remembers them: a fold over where each visit of the journal stands."""

from __future__ import annotations

from assistant.job.memory import Job, Memory, PastVisit, Seen, remember
from assistant.job.plate import Plate, unit_id
from assistant.library.loader import Library
from assistant.visit.reading import JournalReader, VisitRow
from assistant.visit.standing import Standing

#: So many visits are looked back on, the newest first.
MOST_VISITS = 3000
#: Where these visits came from nobody was at a unit.
_NOT_REAL = ("replay",)


def memory_of(journal: JournalReader, library: Library, jobs: tuple[Job, ...] = (), but: str = "") -> Memory:
    """All sites and units of the journal with their visits, without the visit ``but``, and the day's ``jobs``."""
    rows = [row for row in journal.visits() if row.id != but and row.origin not in _NOT_REAL]
    seen = (_seen(row, row.standing, library) for row in rows[:MOST_VISITS] if row.standing is not None)
    return remember(seen, jobs)


def _seen(row: VisitRow, stands: Standing, library: Library) -> Seen:
    past = PastVisit(
        visit=row.id,
        on=row.opened_at.date().isoformat(),
        kind=stands.kind,
        technician=stands.technician,
        fault=stands.fault,
        mended=stands.mended,
        outcome=stands.outcome,
        points=stands.points,
        charged_kg=stands.charged_kg,
        recovered_kg=stands.recovered_kg,
        measured=stands.measured,
        hazards=stands.hazards,
        off=stands.off,
        circuit=stands.circuit,
    )
    plate = stands.plate if stands.plate.id else _plate_of_before(stands, library)
    return Seen(site=stands.site, customer=stands.customer, place=stands.place, plate=plate, past=past)


def _plate_of_before(stands: Standing, library: Library) -> Plate:
    """The unit of a visit from before units had plates: its profile, by make and model."""
    profile = next((p for p in library.profiles.values() if f"{p.make} {p.model}" == stands.unit), None)
    if profile is None:
        return Plate()
    plate = Plate(profile=profile.id, make=profile.make, model=profile.model)
    return plate.model_copy(update={"id": unit_id(plate)})
