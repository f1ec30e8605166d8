"""``ladderside ears --try``: does this headset fit its wearer, here? A minute of listening, then what to change."""

from __future__ import annotations

import argparse
import contextlib
import dataclasses
import json
import statistics
import time
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import islice
from typing import Protocol

from assistant.hearing.sound.audio import Utterance
from assistant.hearing.sound.endpointing import Endpointer
from assistant.hearing.sound.frames import FRAME_S, Frame
from assistant.hearing.sound.levels import level_db, mean_db
from assistant.language.compare import meaning_key
from assistant.language.interpret import interpret
from assistant.language.meaning import Expectation, Heard, ReadingExpectation
from assistant.printable import printable
from assistant.speaking.voice import Voice

#: A line to be said, and the question that it answers: a reading of each kind and a request.
LINES = (
    (
        "thirty degrees Celsius",
        Expectation(
            question="trial.temperature",
            reading=ReadingExpectation(quantity="temperature", unit="degC", plausible=(-40, 60)),
            topic="Temperature in degrees Celsius.",
        ),
    ),
    (
        "two hundred forty volts",
        Expectation(
            question="trial.volts",
            reading=ReadingExpectation(quantity="voltage_ac", unit="V", plausible=(0, 500)),
            topic="Volts AC.",
        ),
    ),
    ("where am I", Expectation(question="trial.request", topic="A request.")),
)
#: How long the room is listened to, how long a line is waited for, and how long a voice rings on, seconds.
_ROOM_S, _LINE_S, _RING_S = 3.0, 8.0, 0.4
#: A microphone that is on has some noise of its own, dB of full scale.
_MUTED_DB = -95.0
#: With less between voice and room than the first, dB, words are lost; up to the second a nearer microphone helps.
_LOST_DB, _NEARER_DB = 6.0, 15.0
#: Slower than this, seconds, an answer is felt as slow.
SLOW_S = 1.5


@dataclass(frozen=True)
class Line:
    """One line as it was heard: ``right`` when it meant the same; levels in dB of full scale, ``seconds`` to judge."""

    say: str
    heard: str
    right: bool
    level_db: float | None
    notes: tuple[str, ...]
    seconds: float


@dataclass(frozen=True)
class Fit:
    """What was found. ``echo_db``: how loud our own voice comes back, over ``room_db``, the place without words."""

    room_db: float
    echo_db: float
    lines: tuple[Line, ...]

    @property
    def voice_db(self) -> float | None:
        """How loud the wearer is, the middle of all lines; None when nobody was heard."""
        levels = [line.level_db for line in self.lines if line.level_db is not None]
        return statistics.median(levels) if levels else None


class Ears(Protocol):
    """What listens in a visit too."""

    def expect(self, expectation: Expectation) -> None: ...

    def judge(self, utterance: Utterance) -> Heard: ...


class Levels:
    """Frames as they come from the microphone, and how loud the last one was: our own voice still in it."""

    def __init__(self, frames: Iterable[Frame]) -> None:
        self._frames, self.last_db = frames, -120.0

    def __iter__(self) -> Iterator[Frame]:
        for frame in self._frames:
            self.last_db = level_db(frame.audio)
            yield frame

    def close(self) -> None:
        """Whoever opened the microphone closes it."""


def check(frames: Iterable[Frame], raw: Levels, ears: Ears, voice: Voice, show: Callable[[str], None]) -> Fit:
    """Walk through it. ``frames`` are ``raw`` without our own voice; each thing said is also ``show``n."""
    stream = iter(frames)

    def say(text: str) -> list[float]:
        show(text)
        speech = voice.say(text)
        told = []
        for _ in stream:
            told.append(raw.last_db)
            if speech.done:
                break
        list(islice(stream, round(_RING_S / FRAME_S)))
        return told

    echo = say("This takes a minute. First the room: please be quiet for three seconds.")
    room = [raw.last_db for _ in islice(stream, round(_ROOM_S / FRAME_S))]
    lines = []
    for words, expectation in LINES:
        ears.expect(expectation)
        echo += say(f"Now say: {words}.")
        lines.append(_line(stream, ears, words, expectation))
    return Fit(mean_db(room) if room else -120.0, mean_db(echo) if echo else -120.0, tuple(lines))


def _line(stream: Iterator[Frame], ears: Ears, words: str, expectation: Expectation) -> Line:
    """The first thing that is said within the time for a line."""
    endpointer = Endpointer()
    limit = round(_LINE_S / FRAME_S)
    for count, frame in enumerate(stream):
        for event in endpointer.feed(frame):
            if isinstance(event, Utterance):
                return _judged(event, ears, words, expectation)
        if count > limit and not endpointer.talking:
            break
    for event in endpointer.finish():
        if isinstance(event, Utterance):
            return _judged(event, ears, words, expectation)
    return Line(words, "", False, None, (), 0.0)


def _judged(utterance: Utterance, ears: Ears, words: str, expectation: Expectation) -> Line:
    began = time.perf_counter()
    heard = ears.judge(utterance)
    took_s = time.perf_counter() - began
    meant = interpret(words, expectation).meaning
    right = heard.trust != "again" and meaning_key(heard.meaning) == meaning_key(meant)
    written = heard.words or " / ".join(dict.fromkeys(text for _, text in heard.ears if text))
    return Line(words, written, right, utterance.level_db, utterance.notes, round(took_s, 2))


def advice(fit: Fit) -> tuple[str, ...]:
    """What to change, the most needed first; nothing when all is well."""
    voice_db = fit.voice_db
    if fit.room_db < _MUTED_DB and voice_db is None:
        return ("Nothing at all came from the microphone. Look whether it is muted, or name another one.",)
    if voice_db is None:
        return ("I heard the room and nobody in it. Bring the microphone to your mouth, or name another one.",)
    found = []
    noted = {note for line in fit.lines for note in line.notes}
    if "clipped" in noted:
        found.append("Your voice overdrives the microphone. Move it away from your mouth, or set its level lower.")
    if "too quiet" in noted:
        found.append("Your voice comes in too low. Set the microphone's level higher, or bring it closer.")
    above_db = voice_db - fit.room_db
    if above_db < _LOST_DB:
        found.append("It is as loud here as you are. Wear a headset with its microphone at your mouth.")
    elif above_db < _NEARER_DB:
        found.append("The room comes close to your voice. Bring the microphone nearer, then less is asked again.")
    if fit.echo_db > voice_db and fit.echo_db > fit.room_db + _LOST_DB:
        found.append("I hear myself louder than you. Wear a headset, or turn the loudspeaker down.")
    found += _misheard(fit.lines, bool(found))
    took_s = statistics.median(line.seconds for line in fit.lines if line.level_db is not None)
    if took_s > SLOW_S:
        found.append(f"An answer takes {took_s:.1f} seconds on this machine. Close other programs.")
    return tuple(found)


def _misheard(lines: tuple[Line, ...], explained: bool) -> list[str]:
    """Lines that came out otherwise; where the sound does not tell why, it may be the ears."""
    wrong = [line for line in lines if not line.right]
    told = [f"For “{line.say}” I heard {f'“{line.heard}”' if line.heard else 'nothing'}." for line in wrong]
    if wrong and not explained:
        told.append("The sound is good, so say it again a little slower; `ladderside ears` proves each ear for itself.")
    return told


@contextlib.contextmanager
def opened(args: argparse.Namespace) -> Iterator[tuple[Iterable[Frame], Levels, Ears, Voice]]:
    """Microphone, loudspeaker and ears as a visit has them. Raises SoundDeviceError, EarError and ModelError."""
    from assistant.commands.shared import devices, remember_devices
    from assistant.hearing.listening.default import default_ears
    from assistant.hearing.sound.barge_in import HearingThrough, PlayedSound
    from assistant.hearing.sound.microphone import Microphone
    from assistant.speaking.loudspeaker import LoudspeakerVoice

    in_device, out_device = devices(args)
    played = PlayedSound()
    with (
        Microphone(in_device) as microphone,
        contextlib.closing(LoudspeakerVoice(out_device, heard_by=played.put)) as voice,
    ):
        remember_devices(args)
        raw = Levels(microphone)
        heard = HearingThrough(raw, played, lambda audio: None, lambda cry: None)
        yield voice.looked_after(heard), raw, default_ears(), voice


def run(args: argparse.Namespace) -> int:
    """Walk through it, say and print what to change; status 0 when there is nothing, else 2."""

    def show(text: str) -> None:
        if not args.json:
            print(text, flush=True)

    with opened(args) as (frames, raw, ears, voice):
        fit = check(frames, raw, ears, voice, show)
        change = advice(fit)
        last = " ".join(change) or "All is well. Nothing to change."
        show(_table(fit))
        show(last)
        voice.say(last.replace("`", "")).wait()
    if args.json:
        print(json.dumps(dataclasses.asdict(fit) | {"change": change}, indent=2, ensure_ascii=False))
    return 2 if change else 0


def _table(fit: Fit) -> str:
    voice = "nobody" if fit.voice_db is None else f"{fit.voice_db:.0f} dB"
    lines = [f"  room {fit.room_db:.0f} dB of full scale, you {voice}, my own voice {fit.echo_db:.0f} dB"]
    for line in fit.lines:
        heard = f"heard “{line.heard}” in {line.seconds:.2f} s" if line.heard else "not heard"
        lines.append(printable(f"  {line.say:26} {'right ' if line.right else 'WRONG '} {heard}"))
    return "\n".join(lines)
