"""The sound of what was said in a visit: kept only where that was asked for, and deleted by command and by age.

One file for each utterance that was taken: ``audio/VISIT/NUMBER.flac`` in the user's data folder, NUMBER being that of
its words in the journal, for the user alone. Talk that was not for the assistant is never kept.
"""

from __future__ import annotations

import contextlib
import io
import re
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.data.files import write_whole
from assistant.data.places import user_folder
from assistant.messages.message import Message, message
from assistant.visit.paths import remember, remembered

if TYPE_CHECKING:
    from assistant.visit.reading import Stamped

#: Days that sound is kept where nobody said otherwise.
USUAL_DAYS = 30
_DAYS = "audio-days"
_FOLDER = "audio"
CANNOT_KEEP = message("cannot-keep-sound")


@dataclass(frozen=True)
class Kept:
    """What is kept of one visit. ``until``: when the last of it is deleted by itself."""

    visit: str
    lines: int
    bytes: int
    until: datetime


def days() -> int:
    """How long sound is kept, as was last asked for."""
    asked = remembered().get(_DAYS, "")
    return int(asked) if re.fullmatch(r"[1-9]\d{0,3}", asked) else USUAL_DAYS


def keep_for(number: int) -> None:
    """Keep sound for so many days from when it was heard."""
    remember({_DAYS: str(number)})


def name(visit: str, number: int) -> str:
    """The file of the words ``number`` of a visit, from the data folder. A name from a journal leads nowhere else."""
    return f"{_FOLDER}/{_safe(visit)}/{number:05d}.flac"


def numbers(visit: str) -> frozenset[int]:
    """The words of a visit whose sound is kept."""
    return frozenset(int(file.stem) for file in _files(user_folder() / _FOLDER / _safe(visit)))


def of_answers(visit: str, facts: Sequence[Stamped]) -> dict[int, str]:
    """The file (``name``) of each answer whose sound is kept, by the answer's number in its visit.

    An answer that was confirmed by voice was said before its "yes": its own words tell which utterance it was.
    """
    from assistant.dialogue.facts import AnswerGiven, WordsHeard

    there, heard, found = numbers(visit), list[tuple[int, str]](), dict[int, str]()
    for item in facts:
        if isinstance(item.fact, WordsHeard):
            heard.append((item.seq, item.fact.heard.words))
        elif isinstance(item.fact, AnswerGiven) and heard:
            same = (seq for seq, words in reversed(heard) if words == item.fact.words)
            number = next(same, heard[-1][0])
            if number in there:
                found[item.fact.number] = name(visit, number)
    return found


class Keeper:
    """Keeps the utterances of one visit; the first that cannot be kept is told with ``noticed``, and stops nothing."""

    def __init__(self, visit: str, noticed: Callable[[Message], None]) -> None:
        self._visit, self._noticed, self._told = visit, noticed, False

    def keep(self, number: int, audio: object, rate: int) -> None:
        """Samples of the words ``number``, mono at ``rate``."""
        import soundfile as sf

        try:
            whole = io.BytesIO()
            sf.write(whole, audio, rate, format="FLAC", subtype="PCM_16")
            write_whole(user_folder() / name(self._visit, number), whole.getvalue())
        except (OSError, sf.LibsndfileError):
            if not self._told:
                self._told = True
                self._noticed(CANNOT_KEEP)


def kept() -> tuple[Kept, ...]:
    """What is kept, visit by visit, the newest first."""
    found = []
    for folder in _folders():
        files = list(_files(folder))
        if files:
            stats = [file.stat() for file in files]
            last = datetime.fromtimestamp(max(each.st_mtime for each in stats))
            size = sum(each.st_size for each in stats)
            found.append(Kept(folder.name, len(files), size, last + timedelta(days=days())))
    return tuple(sorted(found, key=lambda each: each.until, reverse=True))


def forget(visit: str | None = None, older_than_days: float = 0.0) -> int:
    """Delete the sound of a visit, or of all, that is at least so old; how many utterances. Raises OSError."""
    before, deleted = time.time() - older_than_days * 86_400, 0
    for folder in _folders():
        if visit is not None and folder.name != _safe(visit):
            continue
        for file in _files(folder):
            if file.stat().st_mtime <= before:
                file.unlink()
                deleted += 1
        with contextlib.suppress(OSError):  # not empty
            folder.rmdir()
    return deleted


def _folders() -> list[Path]:
    folder = user_folder() / _FOLDER
    return sorted(each for each in folder.iterdir() if each.is_dir()) if folder.is_dir() else []


def _files(folder: Path) -> Iterator[Path]:
    """Those that are ours; whatever else somebody put there stays."""
    return (file for file in sorted(folder.glob("*.flac")) if re.fullmatch(r"\d{5,}", file.stem))


def _safe(visit: str) -> str:
    return re.sub(r"[^A-Za-z0-9-]", "_", visit)
