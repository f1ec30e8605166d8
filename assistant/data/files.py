"""Writing files so that a power cut leaves the old one or the new one, never half of it."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path


def write_whole(file: Path, text: str) -> None:
    """Write beside, force it to the disk, and rename; makes the folder. Raises OSError."""
    file.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=file.parent, suffix=".part")
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as out:
            out.write(text)
            out.flush()
            os.fsync(out.fileno())
        os.replace(name, file)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
