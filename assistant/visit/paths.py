"""Where a user's own things live: journal, records and profiles, all in one data folder."""

from __future__ import annotations

import contextlib
import json
import re
from pathlib import Path

from assistant.data.files import write_whole
from assistant.data.places import user_folder


def journal_path() -> Path:
    """The journal of all visits."""
    return user_folder() / "journal.sqlite"


def record_folder(visit: str) -> Path:
    """Where the record of a visit is written when no folder is named. A name from a journal leads nowhere else."""
    return user_folder() / "records" / re.sub(r"[^A-Za-z0-9-]", "_", visit)


def remembered() -> dict[str, str]:
    """What the user chose last, by what it is ("microphone"); a file that cannot be read is as good as none."""
    try:
        kept = json.loads(_choices().read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return {}
    return {name: value for name, value in kept.items() if isinstance(value, str)} if isinstance(kept, dict) else {}


def remember(chosen: dict[str, str]) -> None:
    """Keep what was chosen; where nothing can be written it is only not remembered."""
    with contextlib.suppress(OSError):
        write_whole(_choices(), json.dumps(remembered() | chosen, indent=2, ensure_ascii=False) + "\n")


def _choices() -> Path:
    return user_folder() / "choices.json"
