"""Noticing "stop" and "wait" while the assistant itself is talking.

The microphone hears the assistant too. Its voice is taken out (``echo``), what is left must be louder than the room and
than the echo that usually stays, and a quick decision (``keywords``) is asked again and again while the word grows.
A voice-activity model in between cost a third of the cries: one short word is over before it is sure.
"""

from __future__ import annotations

import threading
from collections import deque
from collections.abc import Callable, Iterator
from dataclasses import replace

import numpy as np
import soxr
from numpy.typing import NDArray

from assistant.devices import StreamTimes
from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from assistant.hearing.sound.echo import EchoCanceller, bands, likeness
from assistant.hearing.sound.frames import (
    FRAME,
    FRAME_S,
    Frame,
    FrameSource,
    room_noise,
)
from assistant.hearing.sound.levels import RoomLevel, level_db

#: Says which cry is in the sound, or None.
Decide = Callable[[Audio], str | None]

#: What is left must be this much above the room, and above the echo that usually stays (dB).
_ABOVE_DB = 6.0
#: Frames of sound before the first question, between two, and at most in all.
_FIRST, _EVERY, _LONGEST = 6, 2, 36
#: Sound kept before the first loud frame.
_BEFORE = 6
#: Frames of its own voice (4 s) in which the echo is learnt; until then every sound may be the assistant itself. With
#: a headset there is no echo to learn, and nothing to wait for after them.
_LEARNING = 125
#: More alike than this to the echo, what is left is its rest. Of 170 cries that were noticed 3 % were so alike; of
#: what was wrongly taken for a cry, all. Seen over the frames of the cry, and at least so many.
_OWN, _SHAPE = 0.52, 8
#: Below this there is no echo to speak of.
_ECHO_DB = -70.0
#: Sound that is kept of what was played: longer than the loop is ever behind, be it that models load meanwhile on a
#: machine with much else to do.
_KEPT = 60 * SAMPLE_RATE
#: What was played is given so much too early that it is never later than its echo, whatever the clock's error.
_AHEAD_S = 0.03
#: Loudspeaker and microphone are joined anew when they are so many samples apart (20 ms) for so many frames.
_APART, _APART_FRAMES = 320, 12
#: Frames after the last sound played in which its echo may still come.
_STILL_HEARD = 16
#: How fast the usual remainder is learnt, dB a frame up and down; a word of the technician is too short to teach it.
_UP_DB, _DOWN_DB = 0.06, 0.3


class PlayedSound:
    """What was in the air from the loudspeaker, at the ears' rate; filled by the sound thread, read frame by frame.

    Loudspeaker and microphone are joined by the devices' clock; only when it says that samples were lost does the
    join move, for then the echo must be learnt anew. ``joins`` counts the moves.
    """

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._times: StreamTimes | None = None
        self._convert: soxr.ResampleStream | None = None
        self._kept: Audio = np.zeros(_KEPT, np.float32)  # a ring: sample n stands at n % _KEPT
        self._taken = 0
        self._next: int | None = None
        self._apart = 0
        self.joins = 0

    def put(self, block: Audio, rate: int, in_air_s: float) -> None:
        """Take a block as the loudspeaker took it; its first sample will be in the air at ``in_air_s``."""
        if self._times is None or self._convert is None or self._times.rate != rate:  # the first, or another device
            self.joins += self._times is not None
            self._times = StreamTimes(rate)
            self._convert = soxr.ResampleStream(rate, SAMPLE_RATE, 1, dtype="float32", quality="MQ")
            with self._lock:
                self._taken, self._next = 0, None
        self._times.note(len(block), in_air_s)
        converted = self._convert.resample_chunk(block.astype(np.float32))
        with self._lock:
            self._kept[np.arange(self._taken, self._taken + len(converted)) % _KEPT] = converted
            self._taken += len(converted)

    def during(self, in_air_s: float) -> Audio:
        """The FRAME samples that were in the air with a frame of the microphone, a little ahead of them."""
        if self._times is None:
            return np.zeros(FRAME, np.float32)
        wanted = round((in_air_s + _AHEAD_S - self._times.start_s()) * SAMPLE_RATE)
        if self._next is None:
            self._next = wanted
        self._apart = self._apart + 1 if abs(wanted - self._next) > _APART else 0
        if self._apart > _APART_FRAMES:
            self._next, self._apart, self.joins = wanted, 0, self.joins + 1
        first, self._next = self._next, self._next + FRAME
        places = np.arange(first, first + FRAME)
        with self._lock:
            known = (places >= max(0, self._taken - _KEPT)) & (places < self._taken)
            return np.where(known, self._kept[places % _KEPT], np.float32(0))


class BargeIn:
    """Feed it every frame of the microphone with what was played; it gives the frame without our own voice in it.

    ``cry`` is what was noticed in the last frame, else None; each cry is noticed once. Until the echo is learnt, what
    is heard while something is played cannot be told from our own voice: the frame is then the room alone.
    """

    def __init__(self, decide: Decide) -> None:
        self.cry: str | None = None
        self._decide = decide
        self._echo = EchoCanceller()
        self._room = RoomLevel()
        self._recent: deque[Audio] = deque(maxlen=_LONGEST + _BEFORE)
        self._shapes: deque[tuple[NDArray[np.float64], NDArray[np.float64]]] = deque(maxlen=_LONGEST)
        self._foretold_db: deque[float] = deque([-120.0] * 4, maxlen=4)
        self._left_db = 0.0
        self._since = 0
        self._quiet = 0
        self._learning = _LEARNING
        self._unplayed = _STILL_HEARD
        self._played_yet = False

    def feed(self, frame: Frame, played: Audio) -> Frame:
        """Take one frame and what the loudspeaker was given meanwhile."""
        self._played_yet = self._played_yet or bool(np.any(played))
        if not self._played_yet:  # a recording, or before the first word: nothing to take out
            self._recent.append(frame.audio)
            self._room.feed(level_db(frame.audio), False)
            return frame
        rest = self._echo.cancel(frame.audio, played)
        self._recent.append(rest)
        self._shapes.append((bands(rest), bands(self._echo.echo)))
        self._unplayed = 0 if np.any(played) else self._unplayed + 1
        going_on = self._going_on(self._louder(rest, played))
        self.cry = self._ask() if going_on and self._in_air else None
        clean = room_noise(FRAME, self._room.db) if self._only_own else rest
        return replace(frame, audio=clean, over_reply=bool(np.any(played)))

    def moved(self) -> None:
        """Loudspeaker and microphone have moved in time: learn the echo anew."""
        self._echo.forget()
        self._learning = _LEARNING

    def _ask(self) -> str | None:
        if self._since < _FIRST or (self._since - _FIRST) % _EVERY or self._since > _LONGEST:
            return None
        cry = self._decide(np.concatenate(list(self._recent)[-(self._since + _BEFORE) :]))
        if cry is not None and self._own_voice():
            return None
        if cry is not None:
            self._since = _LONGEST + 1  # said once
        return cry

    def _own_voice(self) -> bool:
        """Whether what is left rises and falls as the echo does: the rest of an echo, not somebody else."""
        rest, echo = zip(*list(self._shapes)[-max(self._since, _SHAPE) :], strict=True)
        return likeness(rest, echo) > _OWN

    def _going_on(self, louder: bool) -> bool:
        """Counts the frames since somebody began to talk; a third of a second of quiet ends it."""
        self._quiet = 0 if louder else self._quiet + 1
        if louder or (self._since and self._quiet < round(0.3 / FRAME_S)):
            self._since += 1
            return True
        self._since = 0
        return False

    def _louder(self, rest: Audio, played: Audio) -> bool:
        """Whether something is in ``rest`` that is neither the room nor our own voice."""
        self._learning -= bool(np.any(played)) and self._learning > 0
        self._foretold_db.append(level_db(np.full(1, self._echo.foretold)))
        foretold_db, rest_db = max(self._foretold_db), level_db(rest)
        over_echo = rest_db - foretold_db - self._left_db
        if foretold_db > _ECHO_DB:
            self._left_db += float(np.clip(over_echo, -_DOWN_DB, _UP_DB))
        louder = rest_db > self._room.db + _ABOVE_DB and (over_echo > _ABOVE_DB or foretold_db <= _ECHO_DB)
        self._room.feed(rest_db, louder or self._only_own)
        return louder and self._learnt

    @property
    def _in_air(self) -> bool:
        return self._unplayed < _STILL_HEARD

    @property
    def _learnt(self) -> bool:
        return self._echo.settled or not self._learning

    @property
    def _only_own(self) -> bool:
        """Whether all that is heard now may be our own voice."""
        return self._in_air and not self._learnt


class HearingThrough:
    """A microphone without our own voice in it: a FrameSource over another.

    ``played`` is filled by the loudspeaker (``LoudspeakerVoice(heard_by=played.put)``); ``on_cry`` is called with
    "stop" or "wait" at once when it is heard while the assistant is talking, before the utterance is over.
    """

    def __init__(self, source: FrameSource, played: PlayedSound, decide: Decide, on_cry: Callable[[str], None]) -> None:
        self._source, self._played, self._on_cry = source, played, on_cry
        self._barge_in = BargeIn(decide)

    def __iter__(self) -> Iterator[Frame]:
        for frame in self._source:
            together_s = frame.start_s if frame.in_air_s is None else frame.in_air_s
            joins = self._played.joins
            back = self._played.during(together_s)
            if self._played.joins != joins:
                self._barge_in.moved()
            clean = self._barge_in.feed(frame, back)
            if self._barge_in.cry is not None:
                self._on_cry(self._barge_in.cry)
            yield clean

    def close(self) -> None:
        """Closes the source."""
        self._source.close()
