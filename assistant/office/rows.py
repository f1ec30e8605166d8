"""Visits as rows of the office's tables: folded from the journal by as many processes as there are cores."""

from __future__ import annotations

import gc
import os
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from datetime import UTC, datetime
from functools import cache
from multiprocessing import get_context
from pathlib import Path
from typing import Any

from assistant.dialogue.facts import IndicationNoted
from assistant.library.loader import Library, load
from assistant.record.build import build
from assistant.record.model import Record
from assistant.visit.reading import JournalReader, Stamped

#: Rows by table name, each in the order of the table's columns after ``device`` and ``visit``.
Rows = dict[str, list[tuple[Any, ...]]]
#: Fewer visits than this are folded here: starting processes costs more.
FEW = 400


def utc(at: datetime) -> str:
    """ISO 8601 in UTC, to the second."""
    return at.astimezone(UTC).isoformat(timespec="seconds")


def rows_of(record: Record, facts: Sequence[Stamped], device: str) -> Rows:
    """One visit's rows."""
    key = (device, record.visit)
    made: Rows = {"visits": [(*key, *_visit(record, facts))]}
    made["answers"] = [
        (
            *(*key, a.number, utc(a.at), a.check_id, a.question, a.place, a.said, a.quantity, a.inside, a.inside_unit),
            *(a.unit_assumed, a.margin.value if a.margin else None, a.status),
        )
        for a in record.answers
    ]
    made["checks"] = [
        (*key, n, utc(c.at), c.id, c.title, c.role, c.verdict, c.outcome, c.standing)
        for n, c in enumerate(record.checks, start=1)
    ]
    made["repairs"] = [
        (*key, n, utc(r.at), r.suspect, r.component, r.done, r.proof, r.words)
        for n, r in enumerate(record.repairs, start=1)
    ]
    made["parts"] = [(*key, n, p.name, p.count, p.source) for n, p in enumerate(record.parts, start=1)]
    made["refrigerant"] = [
        (*key, n, utc(m.at), m.kind, m.kg, m.cylinder) for n, m in enumerate(record.refrigerant, start=1)
    ]
    made["duties"] = [(*key, n, d.what, d.due, d.article) for n, d in enumerate(record.duties, start=1)]
    return {table: [tuple(map(_kept, row)) for row in lines] for table, lines in made.items()}


def _kept(value: Any) -> Any:
    """What no database keeps in its words (NUL, half a pair of UTF-16) is written as its number."""
    if not isinstance(value, str) or value.isprintable():
        return value
    return value.encode("utf-8", "backslashreplace").decode().replace("\x00", "\\x00")


def _visit(record: Record, facts: Sequence[Stamped]) -> tuple[Any, ...]:
    named = record.faults[-1] if record.faults else None
    first = next((fault for fault in record.faults if fault.suspect), None)
    amended = {change.about: change.now for change in record.amendments}
    symptom = next((x.fact.symptom for x in facts if isinstance(x.fact, IndicationNoted)), "")
    unit = record.unit
    return (
        *(utc(record.opened_at), utc(record.ended_at), (record.ended_at - record.opened_at).total_seconds() / 60),
        *(record.closed, record.kind or "repair", amended.get("site", record.site), record.customer),
        *(unit.name, unit.make, unit.model, unit.serial, unit.refrigerant, unit.charge_kg),
        *(amended.get("technician", record.technician), symptom, record.outcome, record.left.safety),
        *(named.suspect if named else "", named.component if named else "", named.probability if named else None),
        (first.at - record.opened_at).total_seconds() / 60 if first else None,
        *(record.seal.facts, record.seal.chain),
    )


def folded(journal: Path, device: str, visits: Sequence[str], batch: int) -> Iterator[tuple[list[str], Rows]]:
    """The rows of these visits in batches of ``batch``, in order. Raises JournalError."""
    batches = [list(visits[at : at + batch]) for at in range(0, len(visits), batch)]
    workers = min(os.cpu_count() or 1, len(batches))
    if workers < 2 or len(visits) < FEW:
        yield from _here(journal, device, batches)
        return
    with ProcessPoolExecutor(workers, get_context("spawn"), _begin, (journal, device)) as pool:
        waiting = [pool.submit(_one, names) for names in batches[: 2 * workers]]
        for place, names in enumerate(batches):
            following = place + 2 * workers
            if following < len(batches):  # a few ahead, so that memory stays small
                waiting.append(pool.submit(_one, batches[following]))
            yield names, waiting[place].result()
            waiting[place].cancel()
            waiting[place] = None  # type: ignore[call-overload]


_STATE: dict[str, Any] = {}


@cache
def _library() -> Library:
    """Read once a process, however often it exports."""
    return load()


def _begin(journal: Path, device: str) -> None:
    _STATE.update(reader=JournalReader(journal), library=_library(), device=device)
    gc.disable()  # a visit leaves next to no cycles, and to look for them after each takes a tenth of the time
    gc.collect()
    gc.freeze()


def _one(names: list[str]) -> Rows:
    gc.collect()
    return _fold(_STATE["reader"], _STATE["library"], _STATE["device"], names)


def _here(journal: Path, device: str, batches: list[list[str]]) -> Iterator[tuple[list[str], Rows]]:
    library = _library()
    with JournalReader(journal) as reader:
        for names in batches:
            yield names, _fold(reader, library, device, names)


def _fold(reader: JournalReader, library: Library, device: str, names: list[str]) -> Rows:
    together: Rows = {}
    for name in names:
        facts = reader.facts(name)
        record = build(reader.row(name), facts, library, reader.lost(name), whole=False)
        for table, rows in rows_of(record, facts, device).items():
            together.setdefault(table, []).extend(rows)
    return together
