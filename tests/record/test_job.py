"""What the job gives the record: ledger, plate, duties, trends; signatures and photos put to a visit."""

import base64
import io
import re

import pytest
from PIL import Image
from pypdf import PdfReader

from assistant.data.images import ImageError
from assistant.job.duties import duties
from assistant.record.attach import add_photo, sign
from assistant.record.build import build
from assistant.record.forms import as_html, as_pdf
from assistant.record.sheet import as_csv
from tests.record.material import Told, job_visit


@pytest.fixture(scope="module")
def record(library):
    told = job_visit(library)
    return build(told.row(), told.stamped(), library)


def test_parts_and_refrigerant_are_those_of_the_ledger_that_count(record):
    assert [(part.name, part.count, part.source) for part in record.parts] == [("pipe sensor", 1, "the van")]
    assert [(move.kind, move.kg, move.said, move.cylinder) for move in record.refrigerant] == [
        ("recovered", 0.4, "0.4 kg", "seven"),
        ("charged", 1.2, "1.2 kg", "seven"),
    ]
    assert record.travelled_min == 40
    assert record.notes == ("ladder from the yard",)
    assert [photo.caption for photo in record.photos] == ["the plate"]


def test_the_unit_is_that_of_the_plate(record):
    unit = record.unit
    assert (unit.name, unit.serial, unit.refrigerant, unit.charge_kg) == (
        "Copper Wren Solo, server room",
        "SN 1",
        "R32",
        12.0,
    )
    assert record.customer == "Lind & Daughters"
    assert "SN 1" in as_csv(record)


def test_the_next_check_is_due_as_the_law_has_it(record):
    from datetime import date

    expected = [duty.due.isoformat() for duty in duties("eu", "R32", 12.0, date(2026, 3, 4)) if duty.due]
    assert [duty.due for duty in record.duties if duty.due] == expected == ["2027-03-04"]
    assert len(record.summary.next_due) == 1
    assert "Next due" in as_html(record)


def test_a_reading_of_earlier_visits_is_drawn_as_a_trend(record):
    (trend,) = [picture for picture in record.pictures if picture.kind == "trend"]
    assert trend.x_ticks == ("2024-02-20", "2025-03-01", "2026-03-04")
    assert [mark.y for mark in trend.marks] == [231.0, 226.0, 229.0]
    assert {line.name for line in trend.lines if line.role == "limit"} == {"lower limit 207 V", "upper limit 253 V"}


def test_what_was_read_again_is_one_trend_with_its_last_reading(library):
    told = job_visit(library)
    closing = told.facts.pop()
    told.check("supply-volts", "asked", voltage=240.0)
    told.facts.append((told.at, closing[1]))
    again = build(told.row(), told.stamped(), library)
    (trend,) = [picture for picture in again.pictures if picture.kind == "trend"]
    assert [mark.y for mark in trend.marks] == [231.0, 226.0, 240.0]


def test_all_of_it_is_on_the_page_and_on_paper(record):
    page = as_html(record)
    paper = " ".join(sheet.extract_text() for sheet in PdfReader(io.BytesIO(as_pdf(record))).pages)
    for said in ("pipe sensor", "1.2 kg", "seven", "A. Lind, customer", "SN 1", "40 min", "ladder from the yard"):
        assert said in page
        assert said in " ".join(paper.split())


def test_a_signature_and_a_photo_are_put_to_a_closed_visit(tmp_path, library):
    big = tmp_path / "plate.jpg"
    Image.new("RGB", (3000, 2000), "navy").save(big, exif=Image.Exif())
    drawn = tmp_path / "drawn.png"
    Image.new("RGBA", (900, 300), (0, 0, 0, 0)).save(drawn)
    journal, visit = Told(library).arrive().close(outcome="nothing found").journal(tmp_path / "j.sqlite")
    with journal:
        sign(journal, visit, "A. Lind", "customer", drawn)
        add_photo(journal, visit, big, "the plate")
        record = build(journal.row(visit), journal.facts(visit), library)
        assert journal.verified(visit).wrong == ()
        assert journal.row(visit).closed
    assert [(s.name, s.role) for s in record.signatures] == [("A. Lind", "customer")]
    assert record.closed
    kept = Image.open(io.BytesIO(base64.b64decode(record.photos[0].image.split(",")[1])))
    assert max(kept.size) == 1200
    assert not kept.getexif()
    page = as_html(record)
    assert len(re.findall(r'<img src="data:image/(?:png|jpeg);base64,', page)) == 2
    assert 'alt="Signature of A. Lind"' in page
    paper = PdfReader(io.BytesIO(as_pdf(record)))
    assert {image.image.size for sheet in paper.pages for image in sheet.images} == {(600, 200), (1200, 800)}


@pytest.mark.parametrize("name", ["gone.jpg", "text.jpg"])
def test_what_is_no_picture_is_refused_in_a_sentence(tmp_path, library, name):
    (tmp_path / "text.jpg").write_text("no picture")
    journal, visit = Told(library).arrive().journal(tmp_path / "j.sqlite")
    with journal, pytest.raises(ImageError, match="cannot be read as a picture"):
        add_photo(journal, visit, tmp_path / name, "x")
