"""Writing files so that a power cut leaves the old one or the new one, never half of it."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path


def write_whole(file: Path, content: str | bytes) -> None:
    """Write beside, force it to the disk, and rename; makes the folder. For its owner's eyes alone. Raises OSError."""
    file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=file.parent, suffix=".part")
    try:
        with os.fdopen(handle, "wb") as out:
            out.write(content if isinstance(content, bytes) else content.encode("utf-8", "backslashreplace"))
            out.flush()
            os.fsync(out.fileno())
        os.replace(name, file)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
