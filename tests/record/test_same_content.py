"""Every form of a record says the same, whatever kind the visit was: each kind led by taps, each form read back."""

import csv
import io
import json
import re
from datetime import datetime
from random import Random

import html5lib
import pytest

from assistant.record.build import build
from assistant.record.forms import as_html, as_json
from assistant.record.page import html
from assistant.record.sheet import as_csv
from assistant.visit.journal import Journal
from assistant.visit.screen.taps import TapCommand, TapReading
from assistant.visit.session import Knowledgeable, Session
from tests.simulation.technician import Technician
from tests.simulation.unit import sound_unit
from tests.visit.test_screen import Clock, Tapping

KINDS = ("repair", "return", "commissioning", "maintenance", "leak-check", "removal")
#: What no form but the JSON has: names for programs, and what the pictures are drawn from.
MACHINE = {
    *("id", "check_id", "place_id", "question", "suspect", "precaution", "length", "ears", "special", "inside_unit"),
    *("quantity", "role", "needs", "version", "x_label", "y_label", "lines", "marks", "bars", "suspects", "x_ticks"),
    *("hazards", "bounds", "trust", "content", "chain", "drawing", "image", "checks.outcome", "pictures.kind"),
    "answers.status",
}  # fmt: skip


class Led(Tapping):
    """Leads a visit of a kind; a repair and a return begin with a complaint."""

    kind = "repair"

    def tap(self, shown):
        if shown.stage == "indication" and self.kind != "repair":
            kind, self.kind = self.kind, "repair"
            return TapCommand(name=f"job-{kind}")
        tap = super().tap(shown)
        if isinstance(tap, TapReading) and tap.value == 0.0 and shown.reading is not None:
            low, high = shown.reading.plausible
            tap = tap.model_copy(update={"value": low + 0.2 * (high - low)})
        return tap


@pytest.fixture(scope="module", params=KINDS)
def each_kind(request, library, tmp_path_factory):
    with Journal(tmp_path_factory.mktemp("kind") / "journal.sqlite") as journal:
        session = Session.begin(Knowledgeable(library), journal, Clock(), "typed", datetime(2026, 11, 28, 9, 0))
        unit = sound_unit(library.profiles["copper-wren-solo"], Random(4), False)
        led = Led(session, Technician(library, unit, Random(4), 0.0), "blows-warm-cooling")
        led.kind = request.param
        led.lead(60)
        made = build(journal.row(session.visit), journal.facts(session.visit), library)
        session.close()
    assert made.kind == request.param
    assert len(made.answers) > 5
    return made


def test_all_that_it_says_stands_in_every_form(each_kind):
    page = html5lib.parse(as_html(each_kind), namespaceHTMLElements=False)
    paper = html5lib.parse(html(each_kind, paper=True).replace("\u200b", ""), namespaceHTMLElements=False)
    forms = {
        "page": _plain("".join(page.itertext())),
        "paper": _plain("".join(paper.itertext())),
        "spreadsheet": _plain("\n".join("\n".join(row) for row in csv.reader(io.StringIO(as_csv(each_kind))))),
    }
    said = set(_said(json.loads(as_json(each_kind))))
    assert len(said) > 60
    for name, form in forms.items():
        assert sorted(text for text in said if text not in form) == [], name


def _said(part, key=""):
    """Every text for people in the JSON."""
    if isinstance(part, dict):
        for name, value in part.items():
            if not MACHINE & {name, f"{key}.{name}"}:
                yield from _said(value, name)
    elif isinstance(part, list):
        for each in part:
            yield from _said(each, key)
    elif isinstance(part, str) and part and not re.match(r"\d{4}-\d\d-\d\dT", part):
        yield _plain(part)


def _plain(text):
    """Letter for letter but for what each form writes in its own way: capitals, hyphens in names, spaces."""
    return re.sub(r"\s+", " ", text.replace("-", " ").replace("\n'", "\n")).lower().strip()
