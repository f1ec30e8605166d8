"""A signature or a photo is put to a visit: a new fact, also after the visit was closed."""

from __future__ import annotations

import base64
from datetime import datetime
from pathlib import Path
from typing import Literal

from assistant.data.images import as_jpeg, as_png
from assistant.dialogue.facts import Amended, PhotoKept, Signed
from assistant.errors import LaddersideError
from assistant.visit.journal import Journal

#: Longer sides, pixels: a photo that is looked at on a page, a signature.
_PHOTO, _DRAWING = 1200, 600


class AttachError(LaddersideError):
    """What was given cannot be put to the visit."""


def append(journal: Journal, visit: str, fact: Amended | Signed | PhotoKept) -> None:
    """Add one fact to a visit as its only writer. Raises VisitTaken and JournalError."""
    row = journal.row(visit)
    lock = journal.lock(visit)
    try:
        facts = journal.facts(visit)
        at = datetime.now()
        begun = facts[0].at if facts else row.opened_at
        at_s = max(facts[-1].at_s if facts else 0.0, (at - begun).total_seconds())
        journal.append(visit, at, at_s, [fact], max(row.facts, journal.last_seq(visit)), row.standing)
    finally:
        lock.close()


def sign(
    journal: Journal, visit: str, name: str, role: Literal["customer", "technician"], drawing: Path | None
) -> None:
    """Somebody signs, by name or with a drawing too. Raises AttachError, ImageError and JournalError."""
    if not name.strip():
        raise AttachError("Name who signs, with --name.")
    drawn = _inline("png", as_png(drawing, _DRAWING)) if drawing else ""
    append(journal, visit, Signed(name=name.strip(), role=role, drawing=drawn))


def add_photo(journal: Journal, visit: str, file: Path, caption: str) -> None:
    """A photo, scaled down and without what the camera wrote into it. Raises ImageError and JournalError."""
    text = _inline("jpeg", as_jpeg(file, _PHOTO))
    append(journal, visit, PhotoKept(caption=caption.strip() or file.stem, image=text))


def _inline(kind: str, picture: bytes) -> str:
    return f"data:image/{kind};base64,{base64.b64encode(picture).decode()}"
