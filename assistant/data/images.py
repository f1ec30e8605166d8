"""Pictures that a person gives: read, turned upright, scaled down, without what the camera wrote into them."""

from __future__ import annotations

import io
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.errors import LaddersideError

if TYPE_CHECKING:
    from PIL.Image import Image

#: No picture of a camera is larger, bytes.
_LARGEST = 60_000_000


class ImageError(LaddersideError):
    """A file that is no picture, or none that can be kept."""


def as_jpeg(file: Path, longest: int) -> bytes:
    """The picture as JPEG, its longer side ``longest`` pixels at most. Raises ImageError."""
    return _written(_opened(file).convert("RGB"), longest, "JPEG", quality=80)


def as_png(file: Path, longest: int) -> bytes:
    """The picture as PNG, transparent where it was, its longer side ``longest`` pixels at most. Raises ImageError."""
    return _written(_opened(file).convert("RGBA"), longest, "PNG")


def _written(image: Image, longest: int, kind: str, **how: int) -> bytes:
    image.thumbnail((longest, longest))
    out = io.BytesIO()
    image.save(out, kind, optimize=True, **how)
    return out.getvalue()


def _opened(file: Path) -> Image:
    from PIL import Image, ImageOps, UnidentifiedImageError

    try:
        if file.stat().st_size > _LARGEST:
            raise ImageError(f"{file} is larger than any photo; give a smaller picture.")
        with Image.open(file, formats=("JPEG", "PNG", "WEBP", "BMP", "GIF", "TIFF")) as image:
            return ImageOps.exif_transpose(image)
    except (OSError, ValueError, SyntaxError, UnidentifiedImageError, Image.DecompressionBombError) as error:
        raise ImageError(f"{file} cannot be read as a picture ({str(error)[:120]}). JPEG and PNG can.") from None
