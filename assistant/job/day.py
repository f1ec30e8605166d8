"""The day's jobs from a file of the office: CSV or iCalendar (RFC 5545). Only read, never written.

CSV: a first line of headings in any order. ``site`` or ``address`` must be there; ``time``, ``customer``, ``kind`` and
``about`` may. iCalendar: events of the day; the summary is the customer or the site, the location the address, a
category or the summary's beginning ("Maintenance: ...") the kind.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping
from datetime import date, datetime
from pathlib import Path

from assistant.data.errors import DataFolderError
from assistant.job.memory import Job

#: A day's list is no longer than this, bytes and jobs.
_MOST_BYTES, _MOST_JOBS = 2_000_000, 60
#: Words of a list and the search that they mean; those of other visits stand with their course.
_SEARCHES: dict[str, str] = {
    "repair": "repair", "service call": "repair", "fault": "repair", "breakdown": "repair",
    "return": "return", "follow-up": "return", "warranty": "return",
}  # fmt: skip


Kinds = Mapping[str, str]


class DayError(DataFolderError):
    """A day's list that cannot be used."""


def read_day(file: Path, on: date, listed: Kinds) -> tuple[Job, ...]:
    """The jobs of ``file`` for the day ``on``, in their order. Raises DayError with file, line and remedy.

    ``listed``: words of such lists with the kind of visit that each means.
    """
    try:
        if file.stat().st_size > _MOST_BYTES:
            raise DayError(f"{file} is too long for a day's list; export one day.")
        data = file.read_bytes()
    except OSError as error:
        raise DayError(f"The day's list {file} cannot be read ({error.strerror}). Check its name.") from None
    calendar = data.lstrip()[:15].upper() == b"BEGIN:VCALENDAR"
    jobs = _calendar(data, file, on, listed) if calendar else _table(data, file, listed)
    return tuple(jobs)[:_MOST_JOBS]


def _table(data: bytes, file: Path, listed: Kinds) -> Iterable[Job]:
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise DayError(f"{file} is not written in UTF-8; save it so.") from None
    dialect = ";" if ";" in text.partition("\n")[0] else ","
    rows = csv.DictReader(io.StringIO(text), delimiter=dialect)
    heads = {(head or "").strip().lower() for head in rows.fieldnames or ()}
    if not heads & {"site", "address", "customer"}:
        raise DayError(f"{file}, line 1: no heading “site”, “address” or “customer”; write the headings there.")
    jobs: list[Job] = []
    try:
        for row in rows:
            cells = {(key or "").strip().lower(): (value or "") for key, value in row.items() if key is not None}
            job = _job(cells, listed)
            if job.site:
                jobs.append(job)
    except csv.Error as error:
        raise DayError(f"{file}, line {rows.line_num}: {error}; correct it there.") from None
    return jobs


def _job(row: Mapping[str, str], listed: Kinds) -> Job:
    words = {name: " ".join(str(row.get(name, "")).split())[:200] for name in ("time", "customer", "site", "address")}
    kind, about = " ".join(str(row.get("kind", "")).split())[:80], " ".join(str(row.get("about", "")).split())[:200]
    site = words["site"] or words["address"] or words["customer"]
    return Job(
        at=words["time"], customer=words["customer"], site=site, address=words["address"],
        kind=kind_of(kind, listed) or kind_of(about, listed), about=about,
    )  # fmt: skip


def _calendar(data: bytes, file: Path, on: date, listed: Kinds) -> Iterable[Job]:
    from icalendar import Calendar  # only where there is one to be read

    try:
        events = list(Calendar.from_ical(data).walk("VEVENT"))
        found = [(_start(event), event) for event in events]
    except (ValueError, KeyError, IndexError, AttributeError, UnicodeDecodeError) as error:
        raise DayError(f"{file} is no iCalendar file that can be read ({error}); export it again.") from None
    today = [(start, event) for start, event in found if start is not None and _day(start) == on]
    for start, event in sorted(today, key=lambda each: str(each[0])):
        summary, place = str(event.get("SUMMARY", "")), str(event.get("LOCATION", ""))
        categories = event.get("CATEGORIES")
        kinds = " ".join(str(each) for each in categories.cats) if hasattr(categories, "cats") else ""
        head, colon, rest = summary.partition(":")
        name = rest if colon and kind_of(head, listed) else summary
        time = start.strftime("%H:%M") if isinstance(start, datetime) else ""
        yield _job(
            {
                "time": time, "customer": name, "site": name, "address": place,
                "kind": kinds or head, "about": str(event.get("DESCRIPTION", "")),
            },
            listed,
        )  # fmt: skip


def _start(event: Mapping[str, object]) -> date | datetime | None:
    start = getattr(event.get("DTSTART"), "dt", None)
    return start if isinstance(start, date) else None


def _day(start: date | datetime) -> date:
    return start.date() if isinstance(start, datetime) else start


def kind_of(words: str, listed: Kinds) -> str:
    """The kind of visit that the words of a list name, or ""; ``listed``: the kind by each word that means it."""
    said = words.lower()
    return next((kind for word, kind in {**_SEARCHES, **listed}.items() if word in said), "")
