"""Noticing "stop" and "wait" while the assistant itself is talking.

The microphone hears the assistant too. Its voice is taken out (``echo``), what is left must be louder than the room and
than the echo that usually stays, and a quick decision (``keywords``) is asked again and again while the word grows.
A voice-activity model in between cost a third of the cries: one short word is over before it is sure.
"""

from __future__ import annotations

import threading
from collections import deque
from collections.abc import Callable, Iterator

import numpy as np
import soxr

from assistant.hearing.echo import EchoCanceller
from assistant.hearing.frames import FRAME, FRAME_S, Frame, FrameSource
from assistant.hearing.levels import RoomLevel, level_db
from assistant.hearing.protocol import SAMPLE_RATE, Audio

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
#: Below this there is no echo to speak of.
_ECHO_DB = -70.0
#: Frames after the last sound played in which its echo may still come.
_STILL_HEARD = 16
#: How fast the usual remainder is learnt, dB a frame up and down; a word of the technician is too short to teach it.
_UP_DB, _DOWN_DB = 0.06, 0.3


class PlayedSound:
    """What the loudspeaker was given, at the ears' rate; filled by the sound thread, emptied frame by frame.

    How far the two streams are apart must stay the same for the echo to be learnt. So the first frame is given when
    two are waiting (the device itself needs longer until they are in the air), and a frame that is not there in
    time is silence now and is left out later.
    """

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._convert: soxr.ResampleStream | None = None
        self._waiting: deque[Audio] = deque()
        self._rest: Audio = np.zeros(0, np.float32)
        self._owed = 0
        self._running = False

    def put(self, block: Audio, rate: int) -> None:
        """Take a block as the loudspeaker took it."""
        if self._convert is None:
            self._convert = soxr.ResampleStream(rate, SAMPLE_RATE, 1, dtype="float32", quality="MQ")
        converted = self._convert.resample_chunk(block.astype(np.float32))
        with self._lock:
            self._waiting.append(converted)

    def frame(self) -> Audio:
        """The next FRAME samples."""
        with self._lock:
            pieces = list(self._waiting)
            self._waiting.clear()
        self._rest = np.concatenate([self._rest, *pieces])
        if not self._running and len(self._rest) < 2 * FRAME:
            return np.zeros(FRAME, np.float32)
        self._running = True
        paid = min(self._owed, len(self._rest))
        self._rest, self._owed = self._rest[paid:], self._owed - paid
        if len(self._rest) < FRAME:
            self._owed += FRAME - len(self._rest)
            block = np.pad(self._rest, (0, FRAME - len(self._rest)))
            self._rest = self._rest[:0]
            return block.astype(np.float32)
        block, self._rest = self._rest[:FRAME], self._rest[FRAME:]
        return block


class BargeIn:
    """Feed it every frame of the microphone with what was played; it gives the frame without our own voice in it.

    ``cry`` is what was noticed in the last frame, else None; each cry is noticed once.
    """

    def __init__(self, decide: Decide) -> None:
        self.cry: str | None = None
        self._decide = decide
        self._echo = EchoCanceller()
        self._room = RoomLevel()
        self._recent: deque[Audio] = deque(maxlen=_LONGEST + _BEFORE)
        self._foretold_db: deque[float] = deque([-120.0] * 4, maxlen=4)
        self._left_db = 0.0
        self._since = 0
        self._quiet = 0
        self._learning = _LEARNING
        self._unplayed = _STILL_HEARD

    def feed(self, frame: Frame, played: Audio) -> Frame:
        """Take one frame and what the loudspeaker was given meanwhile."""
        rest = self._echo.cancel(frame.audio, played)
        self._recent.append(rest)
        self._unplayed = 0 if np.any(played) else self._unplayed + 1
        going_on = self._going_on(self._louder(rest, played))
        self.cry = self._ask() if going_on and self._unplayed < _STILL_HEARD else None
        return Frame(rest, frame.start_s)

    def _ask(self) -> str | None:
        if self._since < _FIRST or (self._since - _FIRST) % _EVERY or self._since > _LONGEST:
            return None
        cry = self._decide(np.concatenate(list(self._recent)[-(self._since + _BEFORE) :]))
        if cry is not None:
            self._since = _LONGEST + 1  # said once
        return cry

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
        self._room.feed(rest_db, louder)
        return louder and (self._echo.settled or not self._learning)


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
            clean = self._barge_in.feed(frame, self._played.frame())
            if self._barge_in.cry is not None:
                self._on_cry(self._barge_in.cry)
            yield clean

    def close(self) -> None:
        """Closes the source."""
        self._source.close()
