"""What hearing is worth: a folder of transcribed utterances heard, and each answer compared with the truth.

The meaning is compared, not the spelling; strings of digits keep their zeros. ``recordings_synthetic/README.md`` tells
the form of a folder.
"""

from __future__ import annotations

import csv
import io
import time
import zlib
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Protocol

import numpy as np
from pydantic import TypeAdapter, ValidationError

from assistant.errors import LaddersideError
from assistant.hearing.sound.audio import SAMPLE_RATE, Audio, Utterance
from assistant.hearing.sound.endpointing import endpoint
from assistant.hearing.sound.files import load
from assistant.hearing.sound.frames import AudioFrames
from assistant.language.compare import meaning_key
from assistant.language.interpret import interpret
from assistant.language.meaning import Choice, Expectation, Heard, Meaning, ReadingExpectation
from assistant.language.normalise import normalise
from assistant.language.numbers import digits
from assistant.measuring.noise import KINDS, far_talk, mix
from assistant.measuring.places import Place
from assistant.printable import short

#: Kinds that begin so hold no answer: anything recorded from them without asking is wrong.
NONE = "none-"
#: Noise made of other utterances of the folder, besides those that are made by rule.
BABBLE = "babble"
NOISES = (*KINDS, BABBLE)
_NUMBER = Expectation(
    question="measure.number",
    topic="Numbers.",
    reading=ReadingExpectation(quantity="count", unit="1", plausible=(0, 1e12)),
)
_TALKERS = 12


class MeasuringError(LaddersideError):
    """The folder cannot be measured; the text says why and what to do."""


class Ears(Protocol):
    """What is measured."""

    def expect(self, expectation: Expectation) -> None: ...

    def judge(self, utterance: Utterance) -> Heard: ...


@dataclass(frozen=True)
class Spoken:
    """A line of ``transcripts.csv``; ``meaning`` is the truth where the words alone could mean two things."""

    path: Path
    speaker: str
    kind: str
    text: str
    meaning: Meaning | None = None


@dataclass(frozen=True)
class MeasuringSet:
    """Utterances, and for each kind what the state that hears them expects."""

    spoken: tuple[Spoken, ...]
    expectations: dict[str, Expectation]


@dataclass
class Tally:
    """Counts of one kind or of all.

    ``exact``: the meaning is right and was not asked again; ``seconds``: from the end of the file to the meaning.
    """

    utterances: int = 0
    exact: int = 0
    confirm: int = 0
    confirm_right: int = 0
    again: int = 0
    wrong_unasked: int = 0
    seconds: list[float] = field(default_factory=list)
    confusions: list[str] = field(default_factory=list)

    def add(self, spoken: Spoken, heard: Heard, right: bool, seconds: float) -> None:
        """Counts one utterance."""
        self.utterances += 1
        self.seconds.append(seconds)
        self.exact += right and heard.trust != "again"
        self.confirm += heard.trust == "confirm"
        self.confirm_right += right and heard.trust == "confirm"
        self.again += heard.trust == "again"
        self.wrong_unasked += not right and heard.trust == "sure"
        if not right or heard.trust != "sure":
            self.confusions.append(f"{spoken.path.name}: {heard.trust}: “{spoken.text}” heard as “{heard.words}”")

    def milliseconds(self, percent: float) -> float:
        """A percentile of the time to the meaning."""
        return round(1000 * float(np.percentile(self.seconds, percent)), 1) if self.seconds else 0.0


def read_set(folder: Path) -> MeasuringSet:
    """Reads a folder; raises MeasuringError naming file and line."""
    table = folder / "transcripts.csv"
    if not table.is_file():
        raise MeasuringError(f"{folder} holds no transcripts.csv; name a folder of sound files that has one.")
    rows = csv.DictReader(io.StringIO(_text(table), newline=""))
    try:
        missing = {"file", "speaker", "kind", "text"} - set(rows.fieldnames or ())
        if missing:
            raise MeasuringError(f"{table}, line 1: the columns {', '.join(sorted(missing))} are missing; add them.")
        spoken = tuple(_spoken(table, number, row) for number, row in enumerate(rows, start=2))
    except csv.Error as error:
        raise MeasuringError(f"{table}, line {rows.line_num}: this is no table ({error}); write it again.") from None
    if not spoken:
        raise MeasuringError(f"{table} lists no utterance; add at least one line.")
    return MeasuringSet(spoken, _expectations(folder, spoken))


def _text(file: Path) -> str:
    """Raises MeasuringError when it cannot be read as text."""
    try:
        return file.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        raise MeasuringError(f"{file} is not UTF-8 text; save it again as UTF-8.") from None
    except OSError as error:
        raise MeasuringError(f"{file} cannot be read ({error.strerror}); check its rights.") from None


def _is_there(path: Path) -> bool:
    try:
        return path.is_file()
    except (OSError, ValueError):  # too long for a name, or no name at all
        return False


def _spoken(table: Path, number: int, row: dict[str | None, str | None]) -> Spoken:
    name, speaker, kind, text = (row[column] for column in ("file", "speaker", "kind", "text"))
    if name is None or speaker is None or kind is None or text is None:
        raise MeasuringError(f"{table}, line {number}: it has too few columns; add what is missing.")
    path = table.parent / name
    if not _is_there(path):
        named = repr(short(name))
        raise MeasuringError(f"{table}, line {number}: the file {named} is missing; add it or take the line out.")
    given = row.get("meaning")
    try:
        meaning = TypeAdapter(Meaning).validate_json(given) if given else None
    except ValidationError as error:
        raise MeasuringError(
            f"{table}, line {number}: the meaning cannot be read ({error.error_count()} faults)."
        ) from None
    return Spoken(path, speaker, kind, text, meaning)


def _expectations(folder: Path, spoken: Sequence[Spoken]) -> dict[str, Expectation]:
    file = folder / "expectations.json"
    found = {}
    if file.is_file():
        try:
            found = TypeAdapter(dict[str, Expectation]).validate_json(_text(file))
        except ValidationError as error:
            first = error.errors()[0]
            where = short(" › ".join(map(str, first["loc"])) or "the whole of it")
            raise MeasuringError(
                f"{file}: not a table of expectations ({where}: {first['msg'].splitlines()[0]}); make the set again."
            ) from None
    for kind in dict.fromkeys(each.kind for each in spoken):
        if kind not in found:
            found[kind] = _built_in(kind, [each.text for each in spoken if each.kind == kind])
    return found


def _built_in(kind: str, texts: Sequence[str]) -> Expectation:
    """A bare number, or a state with the commands; words that are no command anywhere are its choices."""
    if kind == "number" or kind.startswith(NONE):
        return _NUMBER
    if kind != "command":
        raise MeasuringError(
            f"What the kind “{short(kind)}” expects is unknown; say it in expectations.json beside the table."
        )
    bare = Expectation(question="measure.command", topic="A command.")
    unknown = [text for text in dict.fromkeys(texts) if interpret(text, bare).meaning is None or text in ("yes", "no")]
    choices = tuple(Choice(id=text.replace(" ", "-"), phrases=(text,)) for text in unknown)
    return bare.model_copy(update={"choices": choices})


def sounds(chosen: MeasuringSet, place: Place) -> Iterator[tuple[Spoken, Audio]]:
    """Each utterance as it is heard in ``place``, from a seed of its name; where nothing is said, as recorded."""
    babble = place.snr_db is not None and place.kind == BABBLE
    talkers = _talkers(chosen) if babble else []
    for spoken in chosen.spoken:
        audio = load(spoken.path)
        if not spoken.kind.startswith(NONE):
            seed = zlib.crc32(spoken.path.name.encode()) % 10_000
            if babble:
                others = [clip for who, clip in talkers if who != spoken.speaker] or [clip for _, clip in talkers]
                assert place.snr_db is not None
                audio = mix(audio, far_talk(others, seed, len(audio)), place.snr_db)
            audio = (replace(place, snr_db=None) if babble else place).heard(audio, seed)
        yield spoken, audio


def _talkers(chosen: MeasuringSet) -> list[tuple[str, Audio]]:
    """One utterance of each of the first speakers."""
    first = {each.speaker: each for each in reversed(chosen.spoken) if not each.kind.startswith(NONE)}
    return [(speaker, load(each.path)) for speaker, each in list(first.items())[:_TALKERS]]


def measure(
    ears: Ears, chosen: MeasuringSet, heard: Iterator[tuple[Spoken, Audio]], progress: Callable[[int], None]
) -> dict[str, Tally]:
    """A tally for every kind."""
    tallies: dict[str, Tally] = {}
    for count, (spoken, audio) in enumerate(heard, start=1):
        tally = tallies.setdefault(spoken.kind, Tally())
        expectation = chosen.expectations[spoken.kind]
        ears.expect(expectation)
        if spoken.kind.startswith(NONE):
            _nothing_said(ears, spoken, audio, tally)
        else:
            began = time.perf_counter()
            answer = ears.judge(Utterance(audio, 0.0, len(audio) / SAMPLE_RATE))
            seconds = time.perf_counter() - began
            tally.add(spoken, answer, _right(spoken, answer, expectation), seconds)
        progress(count)
    return tallies


def _nothing_said(ears: Ears, spoken: Spoken, audio: Audio, tally: Tally) -> None:
    """A long stretch without an answer goes through the endpointing, as it would on site."""
    tally.utterances += 1
    for utterance in endpoint(AudioFrames(audio)):
        answer = ears.judge(utterance)
        tally.confirm += answer.trust == "confirm"
        tally.wrong_unasked += answer.trust == "sure"
        if answer.trust != "again":
            tally.confusions.append(f"{spoken.path.name}: {answer.trust}: nothing heard as “{answer.words}”")


def _right(spoken: Spoken, heard: Heard, expectation: Expectation) -> bool:
    if heard.meaning is None:
        return False
    truth = spoken.meaning or interpret(spoken.text, expectation).meaning
    if meaning_key(truth) != meaning_key(heard.meaning):
        return False
    said = digits(spoken.text) if spoken.meaning is None else None
    return said is None or said == digits(normalise(heard.words, expectation))


def total(tallies: dict[str, Tally]) -> Tally:
    """All kinds together."""
    whole = Tally()
    for tally in tallies.values():
        whole.utterances += tally.utterances
        whole.exact += tally.exact
        whole.confirm += tally.confirm
        whole.confirm_right += tally.confirm_right
        whole.again += tally.again
        whole.wrong_unasked += tally.wrong_unasked
        whole.seconds += tally.seconds
        whole.confusions += tally.confusions
    return whole
