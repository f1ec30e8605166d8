"""Where a user's own things live: journal, records and profiles, all in one data folder."""

from __future__ import annotations

import re
from pathlib import Path

from assistant.data.places import user_folder


def journal_path() -> Path:
    """The journal of all visits."""
    return user_folder() / "journal.sqlite"


def record_folder(visit: str) -> Path:
    """Where the record of a visit is written when no folder is named. A name from a journal leads nowhere else."""
    return user_folder() / "records" / re.sub(r"[^A-Za-z0-9-]", "_", visit)
