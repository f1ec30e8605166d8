"""The record as PDF pages: the same content and order as the HTML page."""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Sequence
from pathlib import Path
from xml.sax.saxutils import escape

from reportlab.lib import colors
from reportlab.lib.pagesizes import A4
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFError, TTFont
from reportlab.platypus import Flowable, KeepTogether, Paragraph, SimpleDocTemplate, Spacer, Table, TableStyle

from assistant.visit.record import ROLE_WORDS, CheckLine, Record

_RULE = colors.HexColor("#cfd8de")
_SOFT = colors.HexColor("#5b6b78")
_VERDICT = {"pass": "#1d6b45", "fail": "#a3301f", "undecided": "#8a5a00", "noted": "#5b6b78"}
#: A word so long is parted: it would run out of its column, and reportlab takes seconds over it. Markup has none.
_LONG_WORD = re.compile(r"[^\s<>&;]{60}")
#: reportlab's own fonts lack Ω and µ; these have them and come with almost every system.
_FONTS = (
    ("/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf", "/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf"),
    ("/Library/Fonts/Arial Unicode.ttf", "/Library/Fonts/Arial Unicode.ttf"),
    ("C:/Windows/Fonts/arial.ttf", "C:/Windows/Fonts/arialbd.ttf"),
)


def _font() -> tuple[str, str, bool]:
    """Names of a plain and a bold font, and whether they have the signs of the trade."""
    for plain, bold in _FONTS:
        if Path(plain).exists() and Path(bold).exists():
            try:
                pdfmetrics.registerFont(TTFont("record", plain))
                pdfmetrics.registerFont(TTFont("record-bold", bold))
                pdfmetrics.registerFontFamily("record", normal="record", bold="record-bold")
            except TTFError:
                continue
            return "record", "record-bold", True
    return "Helvetica", "Helvetica-Bold", False


class _Pages:
    def __init__(self) -> None:
        plain, bold, self.signs = _font()
        self.text = ParagraphStyle("text", fontName=plain, fontSize=9, leading=12.5)
        self.soft = ParagraphStyle("soft", parent=self.text, textColor=_SOFT, fontSize=8, leading=11)
        self.head = ParagraphStyle("head", parent=self.text, fontName=bold, fontSize=11, spaceBefore=10, spaceAfter=4)
        self.title = ParagraphStyle("title", parent=self.text, fontName=bold, fontSize=17, leading=22)

    def p(self, text: str, style: ParagraphStyle | None = None) -> Paragraph:
        if not self.signs:
            for sign, word in (("Ω", "ohm"), ("µ", "u"), ("→", "->"), ("√", "sqrt "), ("Δ", "delta "), ("·", "x")):
                text = text.replace(sign, word)
        return Paragraph(_LONG_WORD.sub(r"\g<0> ", text), style or self.text)

    def table(self, rows: Iterable[Sequence[str]], widths: Sequence[float], head: bool = False) -> Table:
        cells = [[self.p(escape(cell)) for cell in row] for row in rows]
        # A row may be longer than a page: a note of a thousand words.
        table = Table(
            cells,
            colWidths=[width * mm for width in widths],
            repeatRows=1 if head else 0,
            hAlign="LEFT",
            splitInRow=1,
        )
        table.setStyle(
            TableStyle(
                [
                    ("LINEBELOW", (0, 0), (-1, -1), 0.4, _RULE),
                    ("VALIGN", (0, 0), (-1, -1), "TOP"),
                    ("LEFTPADDING", (0, 0), (-1, -1), 0),
                    ("TOPPADDING", (0, 0), (-1, -1), 2),
                ]
            )
        )
        return table


def render(record: Record) -> bytes:
    """The PDF file's bytes."""
    pages = _Pages()
    out = io.BytesIO()
    document = SimpleDocTemplate(
        out,
        pagesize=A4,
        leftMargin=18 * mm,
        rightMargin=18 * mm,
        topMargin=16 * mm,
        bottomMargin=16 * mm,
        title=f"Service record {record.visit}",
        author=record.technician,
    )
    document.build(
        [*_top(pages, record), *_readings(pages, record), *_checks(pages, record), *_cautions(pages, record)]
    )
    return out.getvalue()


def _top(pages: _Pages, r: Record) -> list[Flowable]:
    when = f"Visit {r.visit}, {r.opened_at:%d %B %Y, %H:%M} to {r.ended_at:%H:%M}"
    rows = [("Site", r.site or "not given"), ("Unit", r.unit), ("Unit data from", r.unit_source)]
    rows += [(name, value) for name, value in (("Indoor unit", r.zone), ("Technician", r.technician)) if value]
    if r.indications:
        rows.append(("Shown on arrival", "; ".join(r.indications)))
    rows += [("Left as", text) for text in r.left]
    rows.append(("Outcome", r.outcome + (f": {r.fault}" if r.fault else "")))
    if r.fault_reason:
        rows.append(("Because", f"{r.fault_reason} Certainty {100 * r.fault_probability:.0f} %."))
    for repair in r.repairs:
        made = repair.words or ("made" if repair.done else "not made")
        rows.append(("Repair", f"{made} ({repair.component}; {repair.proof})"))
    if r.customer_note:
        rows.append(("For the customer", r.customer_note))
    return [
        pages.p("Service record", pages.title),
        pages.p(when, pages.soft),
        Spacer(1, 6),
        pages.table(rows, (38, 136)),
    ]


def _readings(pages: _Pages, r: Record) -> list[Flowable]:
    rows = [("No.", "Time", "Check", "Where", "Value", "Trusted because")]
    for a in r.answers:
        status = "" if a.status == "counts" else f"; {a.status}"
        replaces = f"; replaces no. {a.replaces}" if a.replaces else ""
        rows.append((str(a.number), f"{a.at:%H:%M:%S}", a.check, a.place, a.said, a.how + status + replaces))
    return [pages.p("Readings and findings", pages.head), pages.table(rows, (10, 18, 48, 24, 34, 40), head=True)]


def _checks(pages: _Pages, r: Record) -> list[Flowable]:
    out: list[Flowable] = [pages.p("Checks and verdicts", pages.head)]
    for check in r.checks:
        out.append(KeepTogether(_check(pages, check)))
    if r.skipped:
        out.append(pages.p("Skipped: " + escape("; ".join(r.skipped))))
    return out


def _check(pages: _Pages, c: CheckLine) -> list[Flowable]:
    color = _VERDICT.get(c.verdict, "#000000")
    out: list[Flowable] = [pages.p(f'<font color="{color}"><b>{c.verdict}</b></font>  {escape(c.title)}')]
    out.append(pages.p(escape(c.says)))
    numbers = ", ".join(str(number) for number in c.answers)
    out.append(
        pages.p(f"{c.at:%H:%M:%S}, {ROLE_WORDS[c.role]}, energy state {c.energy}, from no. {numbers}", pages.soft)
    )
    for w in c.working:
        text = f"{escape(w.formula)}: {escape(w.numbers)} → <b>{escape(w.result)}</b>. Source: {escape(w.source)}"
        out.append(pages.p(text, pages.soft))
    return [*out, Spacer(1, 5)]


def _cautions(pages: _Pages, r: Record) -> list[Flowable]:
    changes = "".join(f"; {e.at:%H:%M:%S} {e.who}" for e in r.energy)
    rows = [(f"{c.at:%H:%M:%S}", c.text, c.trust) for c in r.cautions]
    out: list[Flowable] = [pages.p("Energy state and cautions", pages.head), pages.p(f"On arrival: live{changes}.")]
    if rows:
        out.append(pages.table(rows, (20, 124, 30)))
    return [*out, Spacer(1, 8), pages.p(escape(r.caution), pages.soft)]
