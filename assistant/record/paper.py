"""The record as a tagged PDF: the page's own layout on sheets with numbers, laid out by WeasyPrint."""

from __future__ import annotations

import logging

from assistant.record.model import Record
from assistant.record.page import html


def pdf(record: Record) -> bytes:
    """The PDF file's bytes (PDF/UA-1: headings, tables, figures and their words are tagged for screen readers)."""
    from weasyprint import HTML, URLFetcher

    logging.getLogger("weasyprint").setLevel(logging.CRITICAL)
    # The page carries all that it needs; whatever address a text of people names is never fetched.
    page = HTML(string=html(record, paper=True), url_fetcher=URLFetcher(allowed_protocols=["data"]))
    made: bytes = page.write_pdf(pdf_variant="pdf/ua-1")
    return made
