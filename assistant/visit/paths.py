"""Where a user's own things live: journal, records and profiles, all in one data folder."""

from __future__ import annotations

from pathlib import Path

from assistant.data.places import user_folder


def journal_path() -> Path:
    """The journal of all visits."""
    return user_folder() / "journal.sqlite"


def records_folder() -> Path:
    """Where records are written when no folder is named."""
    return user_folder() / "records"
