"""A record as files: HTML (one self-contained page), tagged PDF of the same layout, JSON, CSV. See ``page.py``."""

from __future__ import annotations

import gc
import hashlib
import json
import os
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import quote

from assistant.data.files import write_whole
from assistant.errors import LaddersideError
from assistant.record.model import Record
from assistant.record.sheet import as_csv

#: Beside the forms: their hashes, in the format that ``sha256sum --check`` reads.
SUMS = "record.sha256"


class RecordFileError(LaddersideError):
    """The record cannot be written where it was asked for."""


def as_json(record: Record) -> str:
    """Every field of the record, readable and stable in order; ``schema.json`` says what each is."""
    return json.dumps(record.model_dump(mode="json"), indent=2, ensure_ascii=False) + "\n"


def as_html(record: Record, sounds: Mapping[int, str] | None = None) -> str:
    """The page for customer and office; ``sounds``: see ``page.html``."""
    with _uncollected():
        from assistant.record.page import html  # Jinja2 and the pictures take a while to load

        return html(record, sounds=sounds)


def as_pdf(record: Record) -> bytes:
    """The same layout on paper pages, tagged for screen readers."""
    with _uncollected():
        from assistant.record.paper import pdf  # WeasyPrint takes a while to load; only a PDF needs it

        return pdf(record)


@contextmanager
def _uncollected() -> Iterator[None]:
    """The collector would look again and again at all the knowledge for what loading and layout make, a third of the
    time of the page and a tenth of the paper's; what they leave over, 13 MB, it finds afterwards."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


FORMATS: dict[str, Callable[[Record], str | bytes]] = {"html": as_html, "json": as_json, "csv": as_csv, "pdf": as_pdf}


def write(
    record: Record,
    folder: Path,
    formats: tuple[str, ...] = ("html", "json"),
    sounds: Mapping[int, Path] | None = None,
) -> list[Path]:
    """Write the record as ``folder``/record.<format> for each format, and their hashes; returns the forms' paths.

    ``sounds``: the files in which answers can be heard, by the answer's number; the page links to them. They are no
    part of the record, whose hash stays the same when they are deleted. Each form replaces the one before only when it
    is whole. Raises RecordFileError.
    """
    contents = {folder / f"record.{name}": FORMATS[name](record) for name in formats}
    if sounds and (folder / "record.html") in contents:
        links = {number: _link(file, folder) for number, file in sounds.items()}
        contents[folder / "record.html"] = as_html(record, links)
    sums = _sums(folder / SUMS, {path.name: content for path, content in contents.items()})
    try:
        for path, content in contents.items():
            write_whole(path, content)
        write_whole(folder / SUMS, sums)
    except OSError as error:
        raise RecordFileError(f"The record cannot be written to {folder} ({error}). Name another folder.") from None
    return list(contents)


def _link(file: Path, folder: Path) -> str:
    """From a page in ``folder`` to ``file``: as long as both stay where they are beside each other it leads there."""
    return quote(os.path.relpath(file.absolute(), folder.absolute()).replace(os.sep, "/"))


def _sums(path: Path, new: dict[str, str | bytes]) -> str:
    """The hashes of the forms written now, with those of forms written before."""
    known = read_sums(path)
    for name, content in new.items():
        data = content if isinstance(content, bytes) else content.encode("utf-8", "backslashreplace")
        known[name] = hashlib.sha256(data).hexdigest()
    return "".join(f"{known[name]}  {name}\n" for name in sorted(known))


def read_sums(path: Path) -> dict[str, str]:
    """Hash by file name; nothing of a file that is not there or not ours."""
    try:
        lines = path.read_text(encoding="utf-8").splitlines()
    except (OSError, ValueError):
        return {}
    pairs = (line.split("  ", 1) for line in lines if len(line) > 66)
    return {pair[1]: pair[0] for pair in pairs if len(pair) == 2 and len(pair[0]) == 64}
