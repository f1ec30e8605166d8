"""Where an utterance begins and ends: frames in, utterances out.

Silero's model says how likely a voice is in each frame; this module decides with hysteresis, keeps a little
sound on either side, and throws out what is too short, too weak or too unsure to be an answer. After a short
pause the utterance is offered at once (``Paused``), so that the ears can begin while it is still open; when the
talker does not go on, the same samples come again as the finished ``Utterance``.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from assistant.hearing.sound import levels
from assistant.hearing.sound.audio import Audio, Utterance
from assistant.hearing.sound.din import QUIET_DB, Din, Spectrum
from assistant.hearing.sound.frames import FRAME_S, Frame, FrameSource
from assistant.hearing.sound.voice_activity import VoiceActivity

#: Frames on either side whose level speaks for a frame.
_AROUND = 3


@dataclass(frozen=True)
class Settings:
    """Times in seconds, chances 0..1, levels in dB. Set on the synthetic sounds of tests/benchmarks/endpointing.py.

    ``begin``/``keep``: chance of a voice that opens an utterance, and below which a frame counts as a pause.
    ``open_s`` of the first frames must hold a voice. ``offer_s`` of pause offers the utterance to the ears,
    ``close_s`` ends it: long enough for the breath between two readings, short enough not to be waited for.
    ``before_s``/``after_s`` of sound are kept on either side. ``shortest_s`` of voice in all is a word.
    ``longest_s`` ends an utterance that never pauses. ``sure`` must be reached by some frame.
    ``far_db``: so much weaker than the technician's other answers is somebody else, further away, who is let in by
    ``nearer_db`` more each second without an answer, for the technician may have moved away. ``weak_db``: so much
    weaker than the loudest word is not of the same utterance.
    """

    begin: float = 0.45
    keep: float = 0.27
    open_s: float = 0.064
    offer_s: float = 0.2
    close_s: float = 0.5
    before_s: float = 0.35
    after_s: float = 0.2
    shortest_s: float = 0.12
    longest_s: float = 20.0
    sure: float = 0.7
    far_db: float = 12.0
    nearer_db: float = 0.15
    weak_db: float = 18.0


@dataclass(frozen=True)
class Started:
    """Somebody has begun to talk. ``start_s`` is where the voice begins in the stream."""

    start_s: float


@dataclass(frozen=True)
class Paused:
    """The utterance as it would be if it ended here. It may still go on; then another follows."""

    utterance: Utterance


Event = Started | Paused | Utterance


def endpoint(frames: FrameSource, settings: Settings | None = None) -> Iterator[Utterance]:
    """The finished utterances of a stream; what is open when the stream ends is finished there."""
    for event in events(frames, Endpointer(settings)):
        if isinstance(event, Utterance):
            yield event


def events(frames: Iterable[Frame], endpointer: Endpointer) -> Iterator[Event]:
    """Everything the endpointer notices, in order."""
    for frame in frames:
        yield from endpointer.feed(frame)
    yield from endpointer.finish()


class Endpointer:
    """The state of one stream. Feed it every frame; tell it with ``learn`` whose voice is the technician's."""

    def __init__(self, settings: Settings | None = None) -> None:
        self.settings = settings or Settings()
        self.voice = 0.0
        self._activity = VoiceActivity()
        self._gain = levels.AutomaticGain()
        self._room = levels.RoomLevel()
        self._din = Din()
        self._talker_db: float | None = None
        self._before: deque[_Heard] = deque(maxlen=_frames(self.settings.before_s + self.settings.open_s))
        self._open: list[_Heard] | None = None
        self._room_db = self._room.db
        self._started = False

    @property
    def talking(self) -> bool:
        """True while an utterance is open."""
        return self._started

    @property
    def din(self) -> Spectrum | None:
        """The noise of the place where it is loud beside the technician's voice, else None."""
        voice_db = levels.TARGET_DB if self._talker_db is None else self._talker_db
        return self._din.spectrum() if voice_db - self._room.db < QUIET_DB else None

    def feed(self, frame: Frame) -> Iterator[Event]:
        """Take one frame; what it brings about."""
        db = levels.level_db(frame.audio)
        self.voice = self._activity.feed(self._gain.apply(frame.audio))
        heard = _Heard(frame, self.voice, db)
        self._gain.feed(db, self.voice)
        self._room.feed(db, self.voice >= self.settings.keep)
        self._din.feed(frame, self.voice >= self.settings.keep)
        if self._talker_db is not None:
            self._talker_db -= self.settings.nearer_db * FRAME_S
        if self._open is None:
            self._listen(heard)
        else:
            self._open.append(heard)
        if self._open is not None:
            yield from self._consider(self._open)

    def finish(self) -> Iterator[Event]:
        """The stream has ended: close what is open."""
        if self._open is not None:
            yield from self._close(self._open, 0)

    def drop(self) -> None:
        """The stream was cut off: what is open is half of something, and is not heard at all."""
        self._open, self._started = None, False
        self._before.clear()

    def learn(self, utterance: Utterance) -> None:
        """This utterance was an answer: its level is the technician's, and far weaker talk is not meant for us."""
        if utterance.level_db is not None:
            known = utterance.level_db if self._talker_db is None else self._talker_db
            self._talker_db = known + 0.3 * (utterance.level_db - known)

    def _listen(self, heard: _Heard) -> None:
        self._before.append(heard)
        recent = list(self._before)[-_frames(self.settings.open_s) - 1 :]
        if sum(each.voice >= self.settings.begin for each in recent) >= _frames(self.settings.open_s):
            self._open, self._room_db = list(self._before), self._room.db
            self._before.clear()

    def _consider(self, opened: list[_Heard]) -> Iterator[Event]:
        pause = _trailing(~self._talker(opened))
        answer = self._answer(opened) if pause in self._deciding or not self._started else None
        if answer is not None and not self._started:
            self._started = True
            yield Started(answer.start_s)
        if pause == _frames(self.settings.offer_s) and answer is not None:
            yield Paused(answer)
        if pause >= _frames(self.settings.close_s) or len(opened) >= _frames(self.settings.longest_s):
            yield from self._close(opened, pause)

    def _talker(self, opened: list[_Heard]) -> NDArray[np.bool_]:
        """In which frames the one talks who is nearest: a voice, and not far weaker than the loudest word."""
        voice = np.array([each.voice for each in opened])
        level = np.array([levels.above(each.db, self._room_db) for each in opened])
        # A weak consonant between two vowels belongs to them: the loudest of 0.1 s on either side counts.
        around = np.lib.stride_tricks.sliding_window_view(np.pad(level, _AROUND, mode="edge"), 2 * _AROUND + 1)
        clear = voice >= self.settings.begin
        loudest = float(level[clear].max(initial=-120.0))
        present: NDArray[np.bool_] = (voice >= self.settings.keep) & (
            around.max(axis=1) > loudest - self.settings.weak_db
        )
        return present

    @property
    def _deciding(self) -> tuple[int, int]:
        return _frames(self.settings.offer_s), _frames(self.settings.close_s)

    def _close(self, opened: list[_Heard], pause: int) -> Iterator[Event]:
        answer = self._answer(opened)
        self._open, self._started = None, False
        self._before.extend(opened[len(opened) - pause :])
        if answer is not None:
            yield answer

    def _answer(self, opened: list[_Heard]) -> Utterance | None:
        """The utterance in these frames, or None when nobody said a word to us."""
        talker = np.flatnonzero(self._talker(opened))
        clear = [opened[index] for index in talker if opened[index].voice >= self.settings.begin]
        if len(clear) < _frames(self.settings.shortest_s) or max(each.voice for each in clear) < self.settings.sure:
            return None
        voice_db = levels.above(levels.mean_db([each.db for each in clear]), self._room_db)
        if self._talker_db is not None and voice_db < self._talker_db - self.settings.far_db:
            return None
        first = max(0, talker[0] - _frames(self.settings.before_s))
        kept = opened[first : talker[-1] + 1 + _frames(self.settings.after_s)]
        raw: Audio = np.concatenate([each.frame.audio for each in kept])
        return Utterance(
            levels.bring_to_level(raw, voice_db),
            kept[0].frame.start_s,
            kept[-1].frame.end_s,
            levels.notes(raw, voice_db, self._room_db),
            voice_db,
        )


@dataclass(frozen=True)
class _Heard:
    frame: Frame
    voice: float
    db: float


def _trailing(quiet: NDArray[np.bool_]) -> int:
    """How many frames at the end are quiet."""
    loud = np.flatnonzero(~quiet)
    return len(quiet) if not len(loud) else len(quiet) - 1 - int(loud[-1])


def _frames(seconds: float) -> int:
    return round(seconds / FRAME_S)
