"""The record as one HTML page: plain words first, then the technical appendix. Self-contained; prints well."""

from __future__ import annotations

import base64
import re
from collections.abc import Mapping
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import cast

from jinja2 import Environment, PackageLoader, StrictUndefined, Template, select_autoescape
from markupsafe import Markup

from assistant.language.meaning import Quantity
from assistant.language.units import from_canonical
from assistant.reasoning.judgement import Bound
from assistant.record import drawing
from assistant.record.drawn import Picture
from assistant.record.limits import limit
from assistant.record.model import ROLE_WORDS, AnswerLine, Record
from assistant.record.wording import quantity

#: On a screen the colours of pictures follow the page's own, light or dark.
_SCREEN = {
    drawing.INK: "var(--ink)",
    drawing.SOFT: "var(--soft)",
    drawing.GRID: "var(--rule)",
    drawing.GOOD: "var(--good)",
    drawing.BAD: "var(--bad)",
    drawing.BAND: "var(--band)",
    drawing.TRACES[0]: "var(--first)",
    drawing.TRACES[1]: "var(--bad)",
    drawing.TRACES[2]: "var(--third)",
    drawing.TRACES[3]: "var(--good)",
    drawing.TRACES[4]: "var(--open)",
}
#: In the style sheet: a colour that is given a name, the rule that does so, and where one is asked for by its name.
_COLOR, _ROOT, _NAMED = (
    re.compile(r"(--[a-z-]+): (#[0-9a-f]+)"),
    re.compile(r":root \{.*?\}"),
    re.compile(r"var\((.*?)\)"),
)
#: Words for which no line has room, and their pieces that any has.
_ENDLESS, _PIECE = re.compile(r"\S{40,}"), re.compile(r"\S{5}(?=\S)")


def html(record: Record, paper: bool = False, sounds: Mapping[int, str] | None = None) -> str:
    """The page. ``paper``: for pages of paper, with everything unfolded and pictures in fixed colours.

    ``sounds``: where the sound of an answer is, by its number, from the page's own place.
    """
    draw = _on_paper if paper else _on_screen
    pictures = {picture.id: draw(picture) for picture in record.pictures}
    text: str = _template(paper).render(
        r=record,
        paper=paper,
        style=_style(paper),
        svgs=pictures,
        sounds=sounds or {},
        sources=_sources(record),
        role_words=ROLE_WORDS,
        limits=_limits,
        margin=_margin,
        shown=quantity,
        about=_about,
        span=_span,
        minutes=_minutes,
        zone=_zone,
        started=_started,
    )
    return text


def _sources(record: Record) -> dict[str, int]:
    """Where figures come from, each named once at the end and by its number in the text; in the order of the page."""
    named = [
        *(picture.source for picture in record.pictures if picture.kind == "pairs"),
        *(picture.source for picture in record.pictures if picture.kind != "pairs"),
        *(working.source for check in record.checks for working in check.working),
        *(answer.bounds[0].source for answer in record.answers if answer.bounds),
        *(working.source for working in record.calculations),
    ]
    return {source: place for place, source in enumerate(filter(None, dict.fromkeys(named)), start=1)}


def _on_screen(picture: Picture) -> Markup:
    """Within the page, in its colours; the caption and the table speak for it."""
    return Markup(drawing.themed(drawing.svg(picture), _SCREEN))


def _on_paper(picture: Picture) -> Markup:
    """As an image of its own: on paper nothing changes its colours, and it is laid out in a third of the time."""
    data = base64.b64encode(drawing.alone(picture).encode()).decode()
    return Markup('<img src="data:image/svg+xml;base64,{}" alt="{}">').format(data, f"{picture.title}. {picture.says}")


@cache
def _style(paper: bool) -> Markup:
    """The style sheet. On paper the colours stand in it as they are: to look each up by its name, for every element,
    takes a tenth of the layout."""
    text = (Path(__file__).parent / "page.css").read_text(encoding="utf-8")
    if paper:
        colors = dict(_COLOR.findall(text))  # the last that are given: those of print
        text = _NAMED.sub(lambda name: colors[name[1]], _ROOT.sub("", text))
    return Markup(text)


def _breakable(value: object) -> object:
    """On paper a word without end is told where it may break (U+200B, which is not seen).

    WeasyPrint would look for the place itself, in all that is left of the word, for each of its lines: 2,000 signs
    took 3 seconds. What is escaped already, as the data of images, stays as it is.
    """
    if type(value) is not str or len(value) < 40:
        return value
    return _ENDLESS.sub(lambda word: _PIECE.sub("\\g<0>\u200b", word[0]), value)


@cache
def _template(paper: bool) -> Template:
    environment = Environment(
        finalize=_breakable if paper else None,
        loader=PackageLoader("assistant.record", "."),
        autoescape=select_autoescape(default=True),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    return environment.get_template("page.html.j2")


def _limits(line: AnswerLine) -> str:
    """ "2 Ω to 5 Ω", "at least 30 V", "percent 10 %": the limits of a reading in words and numbers, in its own unit."""
    low, high = limit(line.bounds, "low"), limit(line.bounds, "high")
    if low and high:
        return f"{_beside(low, line)} to {_beside(high, line)}"
    if low:
        return f"at least {_beside(low, line)}"
    if high:
        return f"at most {_beside(high, line)}"
    return ", ".join(f"{bound.name.replace('_', ' ')} {_beside(bound, line)}" for bound in line.bounds)


def _beside(bound: Bound, line: AnswerLine) -> str:
    """A limit in the unit in which the reading beside it was said."""
    if line.unit and bound.quantity == line.quantity:
        return _about(from_canonical(bound.value, line.unit, cast("Quantity", line.quantity)), line.unit)
    return _about(bound.value, bound.unit)


def _margin(line: AnswerLine) -> str:
    """How far a reading is inside its limit, in the unit in which it was said."""
    if line.margin is None:
        return ""
    if line.unit and line.margin.quantity == line.quantity:
        kind = cast("Quantity", line.quantity)
        ends = (from_canonical(end, line.unit, kind) for end in (line.margin.value, 0.0))
        return _about(next(ends) - next(ends), line.unit)
    return _about(line.margin.value, line.margin.unit)


def _about(value: float, unit: str) -> str:
    """A computed number, not one that was said: four figures."""
    return quantity(float(f"{value:.4g}"), unit)


def _zone(at: datetime) -> str:
    """ "UTC+02:00": what a time lacks that is written without its zone."""
    offset = at.strftime("%z")
    return f"UTC{offset[:3]}:{offset[3:5]}"


def _started(name: str) -> str:
    """A name that was said, as it stands at the head of a page."""
    return name[:1].upper() + name[1:]


def _minutes(seconds: float) -> str:
    """ "2 h 5 min", "46 min", "under a minute": what a customer wants of a time."""
    return _span(60.0 * round(seconds / 60)).removesuffix(" 0 s") if seconds >= 60 else "under a minute"


def _span(seconds: float | None) -> str:
    """ "2 h 5 min", "46 min", "4 min 30 s", "40 s"."""
    if seconds is None:
        return "not ended"
    whole = round(seconds)
    hours, minutes, rest = whole // 3600, whole % 3600 // 60, whole % 60
    if hours:
        return f"{hours} h {minutes} min"
    if minutes >= 10:
        return f"{minutes} min"
    return f"{minutes} min {rest} s" if minutes else f"{rest} s"
