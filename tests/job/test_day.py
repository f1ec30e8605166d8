"""The day's list: CSV with either separator, iCalendar with folded lines, and what is wrong in one sentence."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from assistant.dialogue.courses import kind_words
from assistant.job.day import DayError, kind_of, read_day
from assistant.library.loader import load

TODAY = date(2026, 3, 4)
LISTED = kind_words(load())
ICS = """BEGIN:VCALENDAR
VERSION:2.0
PRODID:-//office//EN
BEGIN:VEVENT
UID:2
DTSTART:20260304T130000
SUMMARY:Maintenance: Old Dairy
LOCATION:12 Mill Street\\, Norwich
END:VEVENT
BEGIN:VEVENT
UID:1
DTSTART:20260304T083000
SUMMARY:Alder House
LOCATION:3 Quay Road
DESCRIPTION:no heat in the
  office
END:VEVENT
BEGIN:VEVENT
UID:3
DTSTART:20260305T083000
SUMMARY:tomorrow
END:VEVENT
END:VCALENDAR
"""


def test_csv(tmp_path: Path) -> None:
    file = tmp_path / "day.csv"
    file.write_text(
        "time,customer,site,address,kind,about\n08:30,Mrs Alder,Alder House,3 Quay Road,service call,no heat\n"
        '13:00,,Old Dairy,"12 Mill Street, Norwich",yearly maintenance,\n,,,,,\n',
        "utf-8",
    )
    first, second = read_day(file, TODAY, LISTED)
    assert (first.at, first.site, first.customer, first.kind, first.about) == (
        "08:30", "Alder House", "Mrs Alder", "repair", "no heat",
    )  # fmt: skip
    assert (second.site, second.kind, second.address) == ("Old Dairy", "maintenance", "12 Mill Street, Norwich")


def test_csv_of_an_office_with_semicolons(tmp_path: Path) -> None:
    file = tmp_path / "day.csv"
    file.write_bytes("\ufeffSite;Kind\nOld Dairy;Installation\n".encode())
    [job] = read_day(file, TODAY, LISTED)
    assert (job.site, job.kind) == ("Old Dairy", "commissioning")


def test_icalendar_takes_the_events_of_the_day_in_order(tmp_path: Path) -> None:
    file = tmp_path / "day.ics"
    file.write_bytes(ICS.replace("\n", "\r\n").encode())
    first, second = read_day(file, TODAY, LISTED)
    assert (first.at, first.site, first.about) == ("08:30", "Alder House", "no heat in the office")
    assert (second.site, second.kind, second.address) == ("Old Dairy", "maintenance", "12 Mill Street, Norwich")


@pytest.mark.parametrize(
    ("content", "what"),
    [
        (b"name,time\nx,y\n", "line 1"),
        (b"site\n\xff\xfe\n", "UTF-8"),
        (b"BEGIN:VCALENDAR\nBEGIN:VEVENT\nnonsense\n", "iCalendar"),
    ],
)
def test_what_is_wrong_is_said(tmp_path: Path, content: bytes, what: str) -> None:
    file = tmp_path / "day"
    file.write_bytes(content)
    with pytest.raises(DayError, match=what):
        read_day(file, TODAY, LISTED)


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(DayError, match="cannot be read"):
        read_day(tmp_path / "none.csv", TODAY, LISTED)


def test_kinds() -> None:
    assert [kind_of(words, LISTED) for words in ("Tune-up", "Leak test", "Follow-up call", "Removal", "holiday")] == [
        "maintenance", "leak-check", "return", "removal", "",
    ]  # fmt: skip
