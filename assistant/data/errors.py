"""What can be wrong with the data folders, said as file, line and remedy."""

from __future__ import annotations

from pathlib import Path

from assistant.errors import LaddersideError
from assistant.printable import short


class LibraryError(LaddersideError):
    """Knowledge or a profile that cannot be used. ``file`` and ``line`` say where, the text says all three."""

    def __init__(self, file: Path, line: int, what: str, remedy: str) -> None:
        what = short(what)
        place = f"{file.name}, line {line}" if line else file.name
        super().__init__(f"{place}: {what}; {remedy}. (File: {file})")
        self.file = file
        self.line = line
        self.what = what
        self.remedy = remedy


class DataFolderError(LaddersideError):
    """A folder that Ladderside needs is not where it should be."""
