"""Renders a record: HTML (one self-contained file that prints well), JSON, CSV and PDF."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable
from pathlib import Path

from jinja2 import Environment, PackageLoader, StrictUndefined, select_autoescape

from assistant.data.files import write_whole
from assistant.errors import LaddersideError
from assistant.visit.record import ROLE_WORDS, Record

#: A cell of words that begins so is taken for a formula.
_COMPUTED = ("=", "+", "-", "@", "\t", "\r", "\n")


class RecordFileError(LaddersideError):
    """The record cannot be written where it was asked for."""


def as_json(record: Record) -> str:
    """Every field of the record, readable and stable in order."""
    return json.dumps(record.model_dump(mode="json"), indent=2, ensure_ascii=False) + "\n"


def as_html(record: Record) -> str:
    """The page for customer and office."""
    environment = Environment(
        loader=PackageLoader("assistant.visit", "."),
        autoescape=select_autoescape(default=True),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    return environment.get_template("record.html.j2").render(r=record, role_words=ROLE_WORDS)


def as_csv(record: Record) -> str:
    """One row an answer, for a spreadsheet."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(
        [
            "visit",
            "number",
            "time",
            "check",
            "question",
            "place",
            "quantity",
            "value",
            "unit",
            "said",
            "words",
            "how",
            "probability",
            "status",
        ]
    )
    for a in record.answers:
        time = a.at.isoformat(timespec="seconds")
        row = (a.number, time, a.check, a.question, a.place, a.quantity, a.value, a.unit, a.said, a.words)
        cells = (record.visit, *row, a.how, f"{a.probability:.3f}", a.status)
        writer.writerow([_no_formula(cell) for cell in cells])
    return out.getvalue()


def _no_formula(cell: object) -> object:
    """Words that a spreadsheet would compute ("+4 volts") are marked as words, as spreadsheets themselves do."""
    return f"'{cell}" if isinstance(cell, str) and cell.startswith(_COMPUTED) else cell


def as_pdf(record: Record) -> bytes:
    """The same content on paper pages."""
    from assistant.visit.record_pdf import render  # reportlab takes a while to load; only a PDF needs it

    return render(record)


FORMATS: dict[str, Callable[[Record], str | bytes]] = {"html": as_html, "json": as_json, "csv": as_csv, "pdf": as_pdf}


def write(record: Record, folder: Path, formats: tuple[str, ...] = ("html", "json")) -> list[Path]:
    """Write the record as ``folder``/record.<format> for each format; returns the paths.

    Each replaces the one before only when it is whole. Raises RecordFileError.
    """
    contents = {folder / f"record.{name}": FORMATS[name](record) for name in formats}
    try:
        for path, content in contents.items():
            write_whole(path, content)
    except OSError as error:
        raise RecordFileError(f"The record cannot be written to {folder} ({error}). Name another folder.") from None
    return list(contents)
