"""A microphone or loudspeaker gone in the middle of a word, ears that crash or hang: held, back, and as before."""

from __future__ import annotations

import io
import threading
import time
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from random import Random
from unittest.mock import patch

import numpy as np

from assistant.dialogue import facts as f
from assistant.dialogue.evolve import fold
from assistant.dialogue.step import expected
from assistant.hearing.listening.watched import WatchedEars
from assistant.hearing.sound.audio import SAMPLE_RATE, Audio, Utterance
from assistant.hearing.sound.endpointing import Endpointer
from assistant.hearing.sound.files import load as load_sound
from assistant.hearing.sound.frames import FRAME_S, Frame, Framer, room_noise
from assistant.hearing.sound.microphone import MicrophoneLost, NoMicrophone
from assistant.language.meaning import Expectation, Heard
from assistant.library.loader import load
from assistant.speaking.clearly import Noise
from assistant.speaking.loudspeaker import LoudspeakerError
from assistant.visit import bootclock
from assistant.visit.clocks import StreamClock
from assistant.visit.conversation import Conversation
from assistant.visit.enduring import EnduringMicrophone
from assistant.visit.journal import Journal
from assistant.visit.session import Knowledgeable, Session, typed
from assistant.visit.transcript import Transcript
from tests.robust.campaign.report import Report
from tests.robust.campaign.typing import line

ROOT = Path(__file__).parents[3]
_CLIPS = ROOT / "recordings_synthetic" / "crossed-terminals" / "clips"
FAULTS = ("microphone", "loudspeaker", "ears crash", "ears hang", "none")
#: Turns of a visit until another is begun.
_TURNS = 12


class _Said:
    done = True

    def __init__(self, text: str) -> None:
        self.text = text

    def stop(self) -> None:
        """It has been said."""

    def wait(self, timeout_s: float | None = None) -> bool:
        """It has been said."""
        return True


class _Voice:
    """Says everything at once, unless the loudspeaker is away."""

    def __init__(self) -> None:
        self.pace = self.volume = 1.0
        self.beside: Noise | None = None
        self.away = False
        self.said: list[str] = []

    def say(self, text: str) -> _Said:
        """Raises LoudspeakerError while it is away."""
        if self.away:
            raise LoudspeakerError("The loudspeaker went away.")
        self.said.append(text)
        return _Said(text)

    def give_sign(self, sound: object) -> None:
        """Nobody listens for it here."""

    def close(self) -> None:
        """Nothing is held."""


class _Place:
    """Somebody who says a line at a time, the fault that comes with it, and what listens."""

    def __init__(self, report: Report, context: Knowledgeable, journal: Journal, chance: Random, clip: Audio) -> None:
        self.report, self.context, self.chance, self.clip = report, context, chance, clip
        self.session = Session.begin(context, journal, StreamClock(), "microphone", datetime(2026, 3, 4))
        self.voice, self.words, self.fault = _Voice(), "", "none"
        self.never = threading.Event()
        ears = WatchedEars(lambda: _Ears(self), patience_s=0.05)
        clock = self.session.clock
        assert isinstance(clock, StreamClock)
        self.loop = Conversation(self.session, clock, ears, Endpointer(), self.voice, Transcript(io.StringIO()))
        self.now_s = 1000.0

    def sleep(self, seconds: float) -> None:
        """Time goes by while a microphone is looked for."""
        self.now_s += seconds

    def back(self) -> None:
        """Sound comes again: how long until the question has been asked again."""
        began = time.perf_counter()
        self.loop.back()
        self.report.seconds.append(time.perf_counter() - began)

    def say(self, words: str, fault: str) -> None:
        """One line said into the microphone, with this fault; returns when all has been taken in."""
        self.words, self.fault = words, fault
        away = [self.chance.randint(1, 3)]
        cut = self.chance.randrange(round(0.2 / FRAME_S), round(len(self.clip) / SAMPLE_RATE / FRAME_S))

        def opened() -> _Microphone:
            if self.fault == "microphone lost":
                away[0] -= 1
                if away[0] > 0:
                    raise NoMicrophone("There is none.")
                self.fault = "microphone back"
            return _Microphone(self, cut if self.fault == "microphone" else None)

        stream = EnduringMicrophone(opened, self.loop.lost, self.back, self.sleep)
        self.loop.run_on(stream)


class _Microphone:
    """Half a second of the room, the clip, and the room after it; lost at frame ``cut`` of the clip."""

    def __init__(self, place: _Place, cut: int | None) -> None:
        self._place, self._cut = place, cut

    def __iter__(self) -> Iterator[Frame]:
        place, framer = self._place, Framer()
        heard_s = place.loop.clock.heard_s
        before = room_noise(SAMPLE_RATE // 2)
        clip = place.clip if place.fault != "microphone back" else place.clip[:0]
        whole = np.concatenate([before, clip, room_noise(round(2.5 * SAMPLE_RATE))])
        for number, frame in enumerate(framer.cut(whole)):
            place.now_s += FRAME_S
            if self._cut is not None and number >= round(0.5 / FRAME_S) + self._cut:
                place.fault = "microphone lost"
                raise MicrophoneLost("unplugged")
            if place.fault == "loudspeaker":
                place.voice.away = number < round(3.0 / FRAME_S) and number > 5
            yield Frame(frame.audio, heard_s + frame.start_s)
        place.voice.away = False

    def close(self) -> None:
        """Nothing is held open."""


class _Ears:
    """Hear what was said, or fail over it once."""

    def __init__(self, place: _Place) -> None:
        self._place = place

    def ensure(self) -> None:
        """They are there."""

    def expect(self, expectation: Expectation) -> None:
        """They need no grammar."""

    def begin(self, utterance: Utterance) -> None:
        """Nothing is done ahead."""

    def judge(self, utterance: Utterance) -> Heard:
        """What was said."""
        place = self._place
        if place.fault == "ears crash":
            place.fault = "none"
            raise RuntimeError("the recognizer is broken")
        if place.fault == "ears hang":
            place.fault = "none"
            place.never.wait()
        heard = typed(place.words, place.session.scope)
        return heard.model_copy(update={"ears": (("one", place.words), ("other", place.words))})

    def cry(self, audio: Audio) -> str | None:
        """Nobody cries."""
        return None

    def is_call(self, audio: Audio) -> bool:
        """Nobody calls."""
        return False


def gone_and_back(count: int, seed: int, folder: Path) -> Report:
    """So many faults, each in the middle of a line that is said again afterwards."""
    report = Report("sound and ears")
    chance = Random(seed)
    context = Knowledgeable(load(user=folder / "nobody"))
    clip = load_sound(sorted(_CLIPS.glob("*-1.flac"))[0])
    faults = dict.fromkeys(FAULTS, 0)
    place: _Place | None = None
    journal = Journal(folder / "journal.sqlite")
    turns = 0
    while report.tried < count:
        if place is None or place.session.closed or turns >= _TURNS:
            if place is not None:
                place.never.set()
                place.session.close()
            place, turns = _Place(report, context, journal, chance, clip), 0
            place.loop.run((), place.session.open())
        fault = FAULTS[report.tried % len(FAULTS)]
        with patch.object(bootclock, "now_s", lambda place=place: place.now_s):
            _one(report, journal, place, fault, f"seed {seed}, fault {report.tried} ({fault})")
        faults[fault] += 1
        report.tried += 1
        turns += 1
    journal.close()
    report.note = ", ".join(f"{number} {fault}" for fault, number in faults.items())
    return report


def _one(report: Report, journal: Journal, place: _Place, fault: str, where: str) -> None:
    visit, question = place.session.visit, place.session.expectation.question
    before = [item.fact for item in journal.facts(visit)]
    words = line(question, place.chance)
    place.say(words, fault)
    after = [item.fact for item in journal.facts(visit)]
    report.hold(after[: len(before)] == before, f"{where}: what was kept is gone or changed")
    if fault in ("microphone", "ears crash", "ears hang"):
        added = [fact.kind for fact in after[len(before) :] if not isinstance(fact, f.Reopened | f.Said)]
        # A caution that is said again, and what a break makes of a lock, are no answers.
        answers = [kind for kind in added if kind in ("words-heard", "answer-given", "noted", "indication-noted")]
        report.hold(answers == [], f"{where}: half a word became {answers}")
        asked = place.session.expectation.question
        report.hold(asked == question, f"{where}: asks {asked}, not {question}")
    report.hold(not place.loop.trouble.held, f"{where}: it is still held")
    report.hold(bool(place.voice.said), f"{where}: nothing was said")
    state = fold(after)
    report.hold(state == place.session.state, f"{where}: the journal and the visit differ")
    report.hold(expected(place.context, state) == place.session.expectation, f"{where}: it expects something else")
    numbers = [fact.number for fact in after if isinstance(fact, f.AnswerGiven)]
    report.hold(len(numbers) == len(set(numbers)), f"{where}: an answer is there twice")
    report.kept += len(after)
