"""Renders a record: HTML (one self-contained file that prints well), JSON, CSV and PDF."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable
from pathlib import Path

from jinja2 import Environment, PackageLoader, StrictUndefined, select_autoescape

from assistant.errors import LaddersideError
from assistant.visit.record import ROLE_WORDS, Record


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
        writer.writerow((record.visit, *row, a.how, f"{a.probability:.3f}", a.status))
    return out.getvalue()


def as_pdf(record: Record) -> bytes:
    """The same content on paper pages."""
    from assistant.visit.record_pdf import render  # reportlab takes a while to load; only a PDF needs it

    return render(record)


FORMATS: dict[str, Callable[[Record], str | bytes]] = {"html": as_html, "json": as_json, "csv": as_csv, "pdf": as_pdf}


def write(record: Record, folder: Path, formats: tuple[str, ...] = ("html", "json")) -> list[Path]:
    """Write the record as ``folder``/record.<format> for each format; returns the paths."""
    paths = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name in formats:
            path = folder / f"record.{name}"
            content = FORMATS[name](record)
            path.write_bytes(content if isinstance(content, bytes) else content.encode())
            paths.append(path)
    except OSError as error:
        raise RecordFileError(f"The record cannot be written to {folder} ({error}). Name another folder.") from None
    return paths
