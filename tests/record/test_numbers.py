"""Every number in every form is the journal's: drawn visits, each form read back by other code."""

import csv
import io
import json
import re
from html import unescape

import html5lib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from assistant.library.loader import load
from assistant.messages.catalogue import number
from assistant.quantities.table import sign
from assistant.record.build import build
from assistant.record.forms import as_html, as_json, as_pdf
from assistant.record.limits import limit
from assistant.record.sheet import as_csv
from tests.record.material import Told

LIBRARY = load()
volts = st.floats(0.1, 480, allow_nan=False).map(lambda x: float(f"{x:.4g}"))
ohms = st.floats(0.05, 900, allow_nan=False).map(lambda x: float(f"{x:.3g}"))
celsius = st.floats(-9, 59, allow_nan=False).map(lambda x: round(x, 1))
kilopascal = st.floats(400, 3000, allow_nan=False).map(lambda x: float(f"{x:.4g}"))


@st.composite
def visits(draw):
    told = Told(LIBRARY).arrive()
    told.check("supply-volts", voltage=draw(volts))
    told.check("circuit-superheat", pressure=draw(kilopascal), line=draw(celsius), assumed=draw(st.booleans()))
    pairs = ("u-v", "v-w", "w-u")
    told.check("winding-resistance", resistances={pair: draw(ohms) for pair in pairs}, meter="low-ohm")
    told.check("pipe-sensor-resistance", temperature=draw(celsius), resistance=draw(ohms))
    return told


def journalled(told):
    """Value, unit and whether the unit was assumed, as the facts have them."""
    readings = [fact.answer for _, fact in told.facts if fact.kind == "answer-given"]
    return [(r.spoken_value, r.spoken_unit, r.unit_assumed) for r in readings if getattr(r, "quantity", None)]


@settings(max_examples=5, deadline=None)
@given(visits())
def test_every_number_in_every_form_equals_the_journals(told):
    record = build(told.row(), told.stamped(), LIBRARY)
    truth = journalled(told)
    data = json.loads(as_json(record))
    found = [(a["value"], a["unit"], a["unit_assumed"]) for a in data["answers"] if a["quantity"]]
    assert found == truth
    rows = list(csv.DictReader(io.StringIO(as_csv(record))))
    readings = [row for row in rows if row["line"] == "answer" and row["quantity"]]
    spread = [(float(r["value"]), r["unit of value"], r["unit assumed"] == "yes") for r in readings]
    assert spread == truth
    page = html5lib.parse(as_html(record), namespaceHTMLElements=False)
    cells = ["".join(cell.itertext()) for cell in page.iter("td") if cell.get("data-label") == "Value"]
    shown = [cell for cell, line in zip(cells, record.answers, strict=True) if line.quantity]
    for text, (value, _, assumed) in zip(shown, truth, strict=True):
        assert text.split(" ")[0] == number(value)
        assert ("unit assumed" in text) == assumed


@settings(max_examples=4, deadline=None)
@given(visits())
def test_every_number_on_paper_equals_the_journals(told):
    record = build(told.row(), told.stamped(), LIBRARY)
    sheets = [sheet.extract_text() for sheet in PdfReader(io.BytesIO(as_pdf(record))).pages]
    text = re.sub(r"\s+", " ", " ".join(sheets).partition("Readings and findings")[2])
    truth = iter(journalled(told))
    at = 0
    for line in record.answers:
        at = text.index(f" {line.number} {line.at:%H:%M:%S} ", at)
        row = text[at : at + 200]
        if line.quantity:
            value, _, assumed = next(truth)
            assert f" {number(value)} {sign(line.unit)} " in row
            assert ("unit assumed" in row.partition("“")[0]) == assumed
    assert next(truth, None) is None


@settings(max_examples=5, deadline=None)
@given(visits())
def test_a_limit_stands_in_the_unit_of_its_reading(told):
    record = build(told.row(), told.stamped(), LIBRARY)
    line = next(line for line in record.answers if line.question == "pipe-sensor-resistance.resistance")
    low, high = limit(line.bounds, "low"), limit(line.bounds, "high")
    shown = f"{number(float(f'{low.value / 1000:.4g}'))} kΩ to {number(float(f'{high.value / 1000:.4g}'))} kΩ"
    assert line.unit == "kohm"
    assert shown in as_html(record)


@settings(max_examples=5, deadline=None)
@given(visits())
def test_the_pictures_draw_the_numbers_of_the_answers(told):
    record = build(told.row(), told.stamped(), LIBRARY)
    by_kind = {picture.kind: picture for picture in record.pictures}
    read = {line.question: line for line in record.answers}
    windings = next(p for p in record.pictures if p.id.startswith("bars-winding"))
    truth = [line.value for line in record.answers if line.question == "winding-resistance.resistances"]
    assert [bar.value for bar in windings.bars] == pytest.approx(truth)
    (mark,) = by_kind["sensor"].marks
    assert mark.x == read["pipe-sensor-resistance.temperature"].value
    assert mark.y == pytest.approx(read["pipe-sensor-resistance.resistance"].value)
    for picture in record.pictures:
        assert picture.says
        assert picture.rows
        assert all(len(row) == len(picture.columns) for row in picture.rows)


def test_no_number_of_a_form_is_made_up():
    """The customer's page tells no figure that is not a time, a value read, the charge or a probability."""
    told = Told(LIBRARY).arrive().check("supply-volts", voltage=229.0).close(note="")
    record = build(told.row(), told.stamped(), LIBRARY)
    first = as_html(record).split('<section class="appendix">')[0].split("<main>")[1]
    text = unescape(re.sub(r"<[^>]+>", " ", first))
    figures = set(re.findall(r"\d+(?:\.\d+)?", text))
    assert figures <= {"2026", "03", "04", "09", "30", "1", "0.95", "32", "3", "4", *_span(record), *_zone(record)}


def _span(record):
    seconds = round((record.ended_at - record.opened_at).total_seconds())
    return {str(seconds // 60), str(seconds % 60), f"{record.ended_at:%H}", f"{record.ended_at:%M}"}


def _zone(record):
    return {f"{record.opened_at:%z}"[1:3], f"{record.opened_at:%z}"[3:5]}
