"""A defect of ours: its details go to a file that the user can send, never to the terminal or into the air."""

from __future__ import annotations

import traceback
from pathlib import Path

from assistant.data.places import user_folder

#: Where to send it: every copy of the project has its README, whatever address it was got from.
SEND_IT = "please attach that file to a new issue of the repository you got Ladderside from (README.md, “If it fails”)"
#: The file is begun anew above this size, bytes, and the one before is kept.
_LARGEST = 1_000_000


def note_defect() -> Path | None:
    """Write down the exception that is being handled; the file, or None when that is not possible either."""
    log = user_folder() / "defect.log"
    try:
        log.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        if log.exists() and log.stat().st_size > _LARGEST:
            log.replace(log.with_suffix(".log.before"))
        with log.open("a", encoding="utf-8", errors="backslashreplace") as file:
            traceback.print_exc(file=file)
        log.chmod(0o600)
    except OSError:
        return None
    return log
