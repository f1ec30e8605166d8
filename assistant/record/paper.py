"""The record as a tagged PDF: the page's own layout on sheets with numbers, laid out by WeasyPrint."""

from __future__ import annotations

import base64
import ctypes.util
import logging
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from assistant.devices import quiet_stderr
from assistant.record.model import Record
from assistant.record.page import html


def pdf(record: Record) -> bytes:
    """The PDF file's bytes (PDF/UA-1: headings, tables, figures and their words are tagged for screen readers)."""
    with _libraries_by_name():
        from weasyprint import HTML

    logging.getLogger("weasyprint").setLevel(logging.CRITICAL)
    # Where no folder can be written, the library that finds the fonts complains for each of them, and goes on.
    with quiet_stderr():
        page = HTML(string=html(record, paper=True), url_fetcher=_carried)
        made: bytes = page.write_pdf(pdf_variant="pdf/ua-1", finisher=_headers_have_scopes)
    return made


def _carried(url: str) -> Any:
    """The pictures that the page carries; whatever address a text of people names is never fetched."""
    from weasyprint.urls import URLFetcherResponse

    kind, found, data = url.removeprefix("data:").partition(";base64,")
    if not url.startswith("data:") or not found:
        raise ValueError(f"{url[:80]} is not carried by the page.")
    return URLFetcherResponse(url, base64.b64decode(data), {"Content-Type": kind})


def _headers_have_scopes(document: Any, pdf: Any) -> None:
    """Says of each header cell whether it heads its column or its row (ISO 14289-1, 7.5); WeasyPrint names the headers
    of each cell of data, which leaves out those above a column of headers."""
    for cell in pdf.objects:
        if isinstance(cell, dict) and cell.get("S") == "/TH" and "A" in cell:
            row = pdf.objects[int(cell["P"].split()[0])]
            group = pdf.objects[int(row["P"].split()[0])]
            cell["A"]["Scope"] = "/Column" if group["S"] == "/THead" else "/Row"


@contextmanager
def _libraries_by_name() -> Iterator[None]:
    """On Linux the libraries that lay out text are found by their file names, which WeasyPrint tries last; before that
    Python would ask linker and compiler for each of six names, half of the time of loading it."""
    found = ctypes.util.find_library
    if sys.platform == "linux":
        ctypes.util.find_library = lambda name: None
    try:
        yield
    finally:
        ctypes.util.find_library = found
