"""A half-made profile on disk: every answer is written down as it is given, so that stopping loses nothing."""

from __future__ import annotations

import json
from pathlib import Path

from assistant.data.errors import DataFolderError
from assistant.data.files import write_whole
from assistant.data.places import user_folder
from assistant.language.meaning import Heard
from assistant.library.loader import Library
from assistant.library.profile import UnitProfile
from assistant.profiling.build import profile_of
from assistant.profiling.talk import Interview


class Draft:
    """An interview whose answers are also in a file. ``resumed``: how many were there already."""

    def __init__(self, interview: Interview, file: Path) -> None:
        self.interview = interview
        self.file = file
        self.resumed = len(interview.given)

    @classmethod
    def begin(cls, library: Library, afresh: bool = False) -> Draft:
        """Begin, or go on with the one begun before. Raises DataFolderError for a draft that cannot be read."""
        file = user_folder() / "profile-draft.json"
        if afresh:
            file.unlink(missing_ok=True)
        return cls(Interview(library, _read(file)), file)

    @property
    def count(self) -> int:
        """How many answers there are."""
        return len(self.interview.given)

    def say(self, words: str) -> str:
        """Take typed ``words``, write the answers down, and give the reply."""
        return self._keep(self.interview.say(words))

    def hear(self, heard: Heard) -> str:
        """The same for a judged utterance."""
        return self._keep(self.interview.hear(heard))

    def profile(self) -> UnitProfile:
        """The finished profile; raises IncompleteProfileError."""
        return profile_of(self.interview.answers)

    def forget(self) -> None:
        """The profile is kept elsewhere now."""
        self.file.unlink(missing_ok=True)

    def _keep(self, after: tuple[Interview, str]) -> str:
        self.interview, reply = after
        self._write()
        return reply

    def _write(self) -> None:
        try:
            write_whole(self.file, json.dumps(self.interview.given, ensure_ascii=False, indent=0))
        except OSError as error:
            raise DataFolderError(f"The answers cannot be kept in {self.file} ({error.strerror}).") from None


def _read(file: Path) -> tuple[tuple[str, str | float | None], ...]:
    if not file.is_file():
        return ()
    try:
        return tuple((str(step), value) for step, value in json.loads(file.read_text(encoding="utf-8")))
    except (OSError, ValueError, TypeError):
        raise DataFolderError(f"The half-made profile {file} cannot be read; --afresh begins again.") from None
