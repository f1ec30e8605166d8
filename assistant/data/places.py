"""Where the data lies: beside the code in a checkout, inside the package in a wheel, and the user's own folder."""

from __future__ import annotations

import os
from pathlib import Path

from assistant.data.errors import DataFolderError

PACKAGE = Path(__file__).resolve().parent.parent


def data_folder(name: str) -> Path:
    """The shipped folder ``name`` ("knowledge" or "grammars").

    An installed wheel carries it in ``assistant/_data``; a checkout has it at the top level.
    Raises ``DataFolderError`` when neither is there.
    """
    for folder in (PACKAGE / "_data" / name, PACKAGE.parent / name):
        if folder.is_dir():
            return folder
    raise DataFolderError(
        f"The folder “{name}” is missing beside the program ({PACKAGE.parent}); install Ladderside again."
    )


def user_folder() -> Path:
    """The user's own data (visits, profiles): LADDERSIDE_HOME, else the XDG data home; it may not exist yet."""
    own = os.environ.get("LADDERSIDE_HOME")
    if own:
        return Path(own).expanduser()
    base = os.environ.get("XDG_DATA_HOME")
    return (Path(base) if base else Path.home() / ".local" / "share") / "ladderside"
