"""A recorded visit: a folder of clips with a script that says which clip answers which question.

The folder holds ``script.yaml`` (a ``Script``), ``clips/`` and ``room.flac``, some seconds of the place without
words. File names follow from the script: ``clips/<turn id>-1.flac`` is what a turn says first, ``-2`` the second
take for "say it again"; ``clips/<turn id>-correction-1.flac`` its correction; ``clips/yes-1.flac`` and
``clips/no-1.flac`` answer "I heard ..., right?". ``recordings_synthetic/README.md`` shows one.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from fnmatch import fnmatchcase
from functools import cached_property
from pathlib import Path
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from assistant.errors import LaddersideError
from assistant.library.loader import read_as
from assistant.library.models import Slug
from assistant.model import Model

TAKES = (1, 2)


class RecordingError(LaddersideError):
    """A recorded visit that cannot be used: says which file, what is wrong and what to do."""


class TrueReading(Model):
    """One reading as it truly was. ``value`` is in ``unit``; without one, ``special`` is what the meter showed."""

    value: float | None = None
    unit: str = ""
    place: str | None = None
    special: Literal["open_line", "unstable", "no_reading"] | None = None

    @model_validator(mode="after")
    def _one_of_both(self) -> Self:
        if (self.value is None) == (self.special is None):
            raise ValueError("give either a value or a special (open_line, unstable, no_reading)")
        return self


class ScriptTurn(Model):
    """One thing the technician says, when the assistant asks what ``answers`` names.

    ``answers`` is a question key (``Expectation.question``) or a pattern with ``*``. ``say`` are the words of the
    first take (small letters, no punctuation, letters of terminals alone: "u to v"); ``again`` those of the second
    when they differ. ``wait_s`` is the pause before the words: work on the ladder, capacitors bleeding. Without
    ``say`` the turn is that pause alone.

    The truth is one of ``readings``, ``choice`` (several: each is right), ``command`` and ``text`` (the words meant).
    Where ``say`` differs from the truth, or an ear errs, the technician says no when asked, else ``correction``
    ("correction four point eight kilohms"). ``spare`` turns need not come up; ``always`` ones may come up any number
    of times.
    """

    id: Slug | None = None
    answers: str
    say: str = ""
    again: str = ""
    wait_s: Annotated[float, Field(ge=0, le=1800)] = 0.0
    readings: tuple[TrueReading, ...] = ()
    choice: str | tuple[str, ...] = ()
    command: str = ""
    text: str = ""
    correction: str = ""
    spare: bool = False
    always: bool = False

    @model_validator(mode="after")
    def _one_truth(self) -> Self:
        truths = sum(map(bool, (self.readings, self.choice, self.command, self.text)))
        if self.say and truths != 1:
            raise ValueError("give one truth beside say: readings, choice, command or text")
        if not self.say and (truths or self.again or self.correction or not self.wait_s):
            raise ValueError("a turn without say is a pause: give it wait_s and nothing else but answers")
        return self

    @property
    def choices(self) -> tuple[str, ...]:
        """The ids that are right."""
        return (self.choice,) if isinstance(self.choice, str) and self.choice else tuple(self.choice)

    def fits(self, question: str) -> bool:
        """Whether this turn may answer ``question``."""
        return fnmatchcase(question, self.answers)


class Start(Model):
    """How the visit is begun: who, and when (the journal's times count from there)."""

    technician: str = ""
    at: datetime | None = None


class Script(Model):
    """``script.yaml``. ``voice``, ``noise``, ``snr_db`` and ``seed`` tell the generator how to make the clips."""

    title: str
    about: str = ""
    voice: str = ""
    noise: str = "pink"
    snr_db: float = 20.0
    seed: int = 1
    start: Start = Start()
    yes: str = "yes"
    no: str = "no"
    turns: Annotated[tuple[ScriptTurn, ...], Field(min_length=1)]

    def turn_id(self, index: int) -> str:
        """The name of turn ``index`` in file names: its own id, or its number and question."""
        turn = self.turns[index]
        slug = "-".join("".join(c if c.isalnum() else " " for c in turn.answers.lower()).split())
        return turn.id or f"{index + 1:02d}-{slug or 'any'}"

    def spoken(self) -> Iterator[tuple[str, str]]:
        """Every clip of the visit: (file name in ``clips/``, words), in the order of the script."""
        for name, words in (("yes", self.yes), ("no", self.no)):
            yield from ((f"{name}-{take}.flac", words) for take in TAKES)
        for index, turn in enumerate(self.turns):
            name = self.turn_id(index)
            if turn.say:
                yield f"{name}-1.flac", turn.say
                yield f"{name}-2.flac", turn.again or turn.say
            if turn.correction:
                yield from ((f"{name}-correction-{take}.flac", turn.correction) for take in TAKES)


@dataclass(frozen=True)
class RecordedVisit:
    """A visit's folder with its valid script; every clip it needs is there."""

    folder: Path
    script: Script

    @property
    def name(self) -> str:
        return self.folder.name

    @property
    def room(self) -> Path:
        """Some seconds of the place without words."""
        return self.folder / "room.flac"

    def clip(self, name: str) -> Path:
        """The file of the clip called ``name`` (from ``Script.spoken``)."""
        return self.folder / "clips" / name

    @cached_property
    def words(self) -> dict[str, str]:
        """What each clip says, by file name."""
        return dict(self.script.spoken())


def load_script(folder: Path) -> Script:
    """``script.yaml`` of the visit in ``folder``, whether its clips are there or not.

    Raises RecordingError when there is none, LibraryError with file, line and remedy when it is not valid.
    """
    file = folder / "script.yaml"
    if not file.is_file():
        raise RecordingError(f"{folder} is no recorded visit: it has no script.yaml; name a folder that has one.")
    script = read_as(Script, file)
    names = [script.turn_id(index) for index in range(len(script.turns))]
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise RecordingError(f"{file}: two turns are called {twice[0]!r}; give one of them another id.")
    return script


def load(folder: Path) -> RecordedVisit:
    """The recorded visit in ``folder``. Raises RecordingError naming the first clip that is missing."""
    visit = RecordedVisit(folder, load_script(folder))
    for path in (visit.room, *(visit.clip(name) for name in visit.words)):
        if not path.is_file():
            raise RecordingError(
                f"The recorded visit {folder} lacks {path.relative_to(folder)}; record it, or make the clips again "
                f"with: python -m recordings_synthetic visit {folder}"
            )
    return visit
