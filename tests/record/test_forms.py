"""The forms keep the standards: JSON its schema, HTML the parser of the standard, PDF its tags; all text is escaped."""

import csv
import hashlib
import io
import json
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import html5lib
import jsonschema
import pytest
from pypdf import PdfReader

from assistant.dialogue import facts as f
from assistant.record.build import build
from assistant.record.forms import SUMS, as_html, as_json, as_pdf, write
from assistant.record.page import html
from assistant.record.publish import FILE, schema
from assistant.record.sheet import as_csv
from tests.record.material import Told

HOSTILE = '<script>alert(1)</script> & "x" \' </style> {{ 7*7 }} $x_1$ \u202e =1+1'


@pytest.fixture(scope="module")
def hostile(library):
    told = Told(library).arrive(site=f"=HYPERLINK {HOSTILE}")
    told.check("supply-volts", voltage=229.0)
    told.add(f.Said(text=HOSTILE, about="remark"))
    told.name("pipe-sensor-drifted").mend("pipe-sensor-drifted", HOSTILE, proof="not proved").prove().close(HOSTILE)
    told.add(f.Amended(about="site", was=HOSTILE, now=HOSTILE, who=HOSTILE, why=HOSTILE))
    return build(told.row(), told.stamped(), library)


def page(record):
    parser = html5lib.HTMLParser(strict=False, namespaceHTMLElements=False)
    tree = parser.parse(as_html(record))
    return tree, parser.errors


def test_the_published_schema_is_the_models():
    assert FILE.read_text(encoding="utf-8") == schema()


def test_the_json_keeps_its_schema(record, hostile):
    checker = jsonschema.Draft202012Validator(json.loads(schema()), format_checker=jsonschema.FormatChecker())
    for each in (record, hostile):
        assert list(checker.iter_errors(json.loads(as_json(each)))) == []
    broken = json.loads(as_json(record)) | {"version": "0.9"}
    assert list(checker.iter_errors(broken))


def test_times_have_their_zone(hostile, record):
    def values(data):
        inside = data.values() if isinstance(data, dict) else data if isinstance(data, list) else ()
        return [data] if isinstance(data, str) else [each for part in inside for each in values(part)]

    times = [text for text in values(json.loads(as_json(record))) if re.match(r"\d{4}-\d\d-\d\dT", text)]
    assert len(times) > 50
    for each in (record, hostile):  # the second has an amendment
        times += [row["time"] for row in csv.DictReader(io.StringIO(as_csv(each))) if row["time"]]
    assert [time for time in times if not re.search(r"(?:Z|[+-]\d\d:\d\d)$", time)] == []
    zone = f"UTC{record.opened_at:%z}"
    zone = f"{zone[:-2]}:{zone[-2:]}"
    assert as_html(record).count(zone) == 2  # in the head and at the foot
    text = "".join(sheet.extract_text() for sheet in PdfReader(io.BytesIO(as_pdf(record))).pages)
    assert text.count(zone) == 2


@pytest.mark.parametrize("which", ["record", "hostile"])
def test_the_page_parses_without_an_error_and_asks_for_nothing(which, request):
    record = request.getfixturevalue(which)
    tree, errors = page(record)
    assert errors == []
    ids = [element.get("id") for element in tree.iter() if element.get("id")]
    assert len(ids) == len(set(ids))
    assert not [element for element in tree.iter() if element.tag in ("script", "link", "iframe", "object", "img")]
    text = as_html(record)
    assert not re.search(r"url\((?!#)|@import|\bsrc=|https?://(?!www\.w3\.org)", text.split("<body")[0])
    referred = set(re.findall(r'(?:href="#|url\(#)([^")]+)', text))
    assert referred <= set(ids)


def test_words_of_people_stay_words_in_every_form(hostile):
    tree, _ = page(hostile)
    # The site as it was amended heads the page; what it was stands below.
    assert "".join(tree.find(".//h1").itertext()) == HOSTILE
    assert "".join(tree.find(".//header//del").itertext()).startswith(f"=HYPERLINK {HOSTILE}")
    rows = list(csv.reader(io.StringIO(as_csv(hostile))))
    assert all(not cell.startswith(("=", "+", "-", "@", "\t")) for row in rows[1:] for cell in row if not number(cell))
    assert rows[1][1].startswith("'=HYPERLINK")
    text = "".join(sheet.extract_text() for sheet in PdfReader(io.BytesIO(as_pdf(hostile))).pages)
    assert "alert(1)" in text


def test_a_word_without_end_may_break_on_paper_and_stays_itself_elsewhere(library):
    """What lays out paper looked for the place in all of the word for each line: 2,000 signs took three seconds."""
    word = "…" * 2000
    told = Told(library).arrive(site="x").check("supply-volts", voltage=229.0).close(note=word)
    record = build(told.row(), told.stamped(), library)
    text, paper = as_html(record), html(record, paper=True)
    assert word in text
    assert "\u200b" not in text
    assert word in paper.replace("\u200b", "")
    assert max(map(len, re.findall("…+", paper))) == 5
    short = record.model_copy(update={"site": "service-record-of-the-visit"})
    assert "service-record-of-the-visit" in html(short, paper=True)


def number(cell):
    return re.fullmatch(r"-?\d+(\.\d+)?(e-?\d+)?", cell) is not None


def test_the_pdf_is_tagged_numbered_and_says_what_the_page_says(record):
    pdf: Any = PdfReader(io.BytesIO(as_pdf(record)))
    root = pdf.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    assert "Service record" in pdf.metadata.title
    roles, scopes, listed = set(), set(), set()

    def walk(node):
        node = node.get_object()
        if hasattr(node, "get") and node.get("/S"):
            roles.add(node["/S"])
            if node["/S"] == "/TH":
                scopes.add(node["/A"]["/Scope"])
            if node["/S"] == "/L":
                listed.update(kid.get_object()["/S"] for kid in node["/K"])
        kids = node.get("/K", []) if hasattr(node, "get") else []
        for kid in kids if isinstance(kids, list) else [kids]:
            if hasattr(kid.get_object(), "get") and kid.get_object().get("/S"):
                walk(kid)

    walk(root["/StructTreeRoot"])
    assert {"/H1", "/H2", "/P", "/Table", "/TH", "/TD"} <= roles
    assert scopes == {"/Row", "/Column"}
    assert listed == {"/LI"}
    texts = [sheet.extract_text() for sheet in pdf.pages]
    assert all(f"Page {place} of {len(texts)}" in text for place, text in enumerate(texts, start=1))
    whole = " ".join("".join(texts).split())
    for said in ("19.4 kΩ", "11 kΩ", "In service.", "Technical appendix", "new pipe sensor from the van"):
        assert said in whole


def test_the_spreadsheet_has_site_and_unit_and_one_row_an_answer(record):
    rows = list(csv.DictReader(io.StringIO(as_csv(record))))
    assert {row["site"] for row in rows} == {"the bakery in Mill Lane"}
    assert {row["unit"] for row in rows} == {"Copper Wren Solo"}
    answers = [row for row in rows if row["line"] == "answer"]
    assert len(answers) == len(record.answers)
    assert answers[0]["low limit"] == "207.0"


def test_the_same_record_is_the_same_file(record, tmp_path: Path):
    assert as_html(record) == as_html(record)
    write(record, tmp_path, ("json", "csv", "html"))
    for line in (tmp_path / SUMS).read_text().splitlines():
        kept, name = line.split("  ")
        assert hashlib.sha256((tmp_path / name).read_bytes()).hexdigest() == kept


def test_a_locked_unit_is_told_first_and_in_red(library):
    told = Told(library).arrive().lock().close(outcome="not mended")
    text = as_html(build(told.row(), told.stamped(), library))
    body = text.split("<main>")[1]
    assert body.index("SWITCHED OFF AND LOCKED") < body.index("What was wrong")
    assert '<section class="banner alarm"' in body


def test_where_nothing_can_be_written_a_form_is_made_without_a_word(tmp_path):
    (tmp_path / "home").write_text("a file where a folder should be")
    code = "from assistant.record.drawing import svg; from assistant.record.paper import pdf"
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        cwd=Path(__file__).parents[2],
        env={**os.environ, "LADDERSIDE_HOME": str(tmp_path / "home"), "MPLCONFIGDIR": str(tmp_path / "home" / "x")},
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")
