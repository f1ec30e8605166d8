"""A signature or a photo is put to a visit: a new fact, also after the visit was closed."""

from __future__ import annotations

import base64
import io
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from assistant.dialogue.facts import Amended, PhotoKept, Signed
from assistant.errors import LaddersideError
from assistant.visit.journal import Journal

if TYPE_CHECKING:
    from PIL.Image import Image

#: Longer sides, pixels: a photo that is looked at on a page, a signature.
_PHOTO, _DRAWING = 1200, 600
#: No picture of a camera is larger, bytes.
_LARGEST = 60_000_000


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
    """Somebody signs, by name or with a drawing too. Raises AttachError and JournalError."""
    if not name.strip():
        raise AttachError("Name who signs, with --name.")
    append(journal, visit, Signed(name=name.strip(), role=role, drawing=_png(drawing) if drawing else ""))


def add_photo(journal: Journal, visit: str, file: Path, caption: str) -> None:
    """A photo, scaled down and without what the camera wrote into it. Raises AttachError and JournalError."""
    image = _opened(file).convert("RGB")
    image.thumbnail((_PHOTO, _PHOTO))
    out = io.BytesIO()
    image.save(out, "JPEG", quality=80, optimize=True)
    text = f"data:image/jpeg;base64,{base64.b64encode(out.getvalue()).decode()}"
    append(journal, visit, PhotoKept(caption=caption.strip() or file.stem, image=text))


def _png(file: Path) -> str:
    image = _opened(file).convert("RGBA")
    image.thumbnail((_DRAWING, _DRAWING))
    out = io.BytesIO()
    image.save(out, "PNG", optimize=True)
    return f"data:image/png;base64,{base64.b64encode(out.getvalue()).decode()}"


def _opened(file: Path) -> Image:
    from PIL import Image, ImageOps, UnidentifiedImageError

    try:
        if file.stat().st_size > _LARGEST:
            raise AttachError(f"{file} is larger than any photo; give a smaller picture.")
        with Image.open(file, formats=("JPEG", "PNG", "WEBP", "BMP", "GIF", "TIFF")) as image:
            return ImageOps.exif_transpose(image)
    except (OSError, ValueError, SyntaxError, UnidentifiedImageError, Image.DecompressionBombError) as error:
        raise AttachError(f"{file} cannot be read as a picture ({str(error)[:120]}). JPEG and PNG can.") from None
