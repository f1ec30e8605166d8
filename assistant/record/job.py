"""What the job's ledger and memory give the record: parts, refrigerant, photos, signatures, times, duties, trends."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta
from typing import Literal

from assistant.dialogue import facts as f
from assistant.dialogue.ledgers import duty_message, law_for
from assistant.dialogue.state import VisitState
from assistant.job.ledger import Line, counting
from assistant.library.loader import Library
from assistant.library.profile import UnitProfile
from assistant.quantities.table import sign
from assistant.record.course import zoned
from assistant.record.drawn import Picture
from assistant.record.job_lines import DutyLine, MoveLine, PartLine, PhotoLine, SignatureLine
from assistant.record.limits import limit
from assistant.record.model import AnswerLine
from assistant.record.pictures import trend
from assistant.record.wording import quantity, words
from assistant.visit.reading import Stamped

#: Trends of so many readings at most are drawn.
MOST_TRENDS = 4


def _at(opened: datetime, line: Line) -> datetime:
    return zoned(opened + timedelta(seconds=line.at_s))


def parts(state: VisitState, opened: datetime) -> Iterable[PartLine]:
    """The parts of the ledger that count."""
    for line in counting(state.job.ledger):
        if line.entry.what == "part":
            yield PartLine(at=_at(opened, line), name=line.entry.text, count=line.entry.count, source=line.entry.source)


def refrigerant(state: VisitState, opened: datetime) -> Iterable[MoveLine]:
    """What was taken out and put in."""
    for line in counting(state.job.ledger):
        entry = line.entry
        if entry.what in ("recovered", "charged") and entry.kg is not None:
            kind: Literal["recovered", "charged"] = "recovered" if entry.what == "recovered" else "charged"
            mass = quantity(float(f"{entry.kg:.3g}"), "kg")
            said = entry.spoken if entry.spoken == mass else f"{entry.spoken} ({mass})" if entry.spoken else mass
            yield MoveLine(at=_at(opened, line), kind=kind, kg=entry.kg, said=said, cylinder=entry.cylinder)


def notes(state: VisitState) -> Iterable[str]:
    """Free notes, as they were said."""
    return (line.entry.text for line in counting(state.job.ledger) if line.entry.what == "note" and line.entry.text)


def photos(state: VisitState, opened: datetime, facts: Sequence[Stamped]) -> Iterable[PhotoLine]:
    """Photos that were put to the visit, and those of which it was only said that they were taken."""
    for line in counting(state.job.ledger):
        if line.entry.what == "photo":
            yield PhotoLine(at=_at(opened, line), caption=line.entry.text or "a photo was taken")
    for item in facts:
        if isinstance(item.fact, f.PhotoKept):
            yield PhotoLine(at=zoned(item.at), caption=item.fact.caption, image=item.fact.image)


def signatures(facts: Sequence[Stamped]) -> Iterable[SignatureLine]:
    """Who signed, in the order they did."""
    for item in facts:
        if isinstance(item.fact, f.Signed):
            fact = item.fact
            yield SignatureLine(at=zoned(item.at), name=fact.name, role=fact.role, drawing=fact.drawing)


def duties(state: VisitState, profile: UnitProfile | None, library: Library) -> Iterable[DutyLine]:
    """What the law asks for, with its article."""
    for duty in law_for(state, profile, library):
        due = duty.due.isoformat() if duty.due else ""
        yield DutyLine(what=words(duty_message(duty), library), due=due, article=duty.article)


def trends(state: VisitState, answers: Sequence[AnswerLine], today: str) -> Iterable[Picture]:
    """Readings of this visit that earlier ones of the same unit have too, each over the years, longest first.

    What was read several times in this visit stands there as it was read last.
    """
    unit = state.job.unit
    found: list[tuple[int, Picture]] = []
    last = {(line.question, line.place_id): line for line in answers if line.status == "counts"}
    for line in last.values():
        if unit is None or line.inside is None:
            continue
        before = [
            (past.on, measured.value)
            for past in reversed(unit.past)
            for measured in past.measured
            if (measured.key, measured.place) == (line.question, line.place_id)
        ]
        if before:
            points = [(on, value, None) for on, value in before]
            low, high = limit(line.bounds, "low"), limit(line.bounds, "high")
            good = None if line.margin is None else line.margin.value >= 0
            picture = trend(
                f"trend-{line.number}",
                f"{line.check}{', ' + line.place if line.place else ''}, visit by visit",
                sign(line.inside_unit),
                [*points, (today, line.inside, good)],
                low.value if low else None,
                high.value if high else None,
            )
            found.append((len(points), picture))
    found.sort(key=lambda pair: -pair[0])
    return (picture for _, picture in found[:MOST_TRENDS])
