"""A microphone that may go away and come back: one stream of frames for the whole visit."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Protocol

from assistant.devices import SoundDeviceError, look_again
from assistant.hearing.sound.frames import FRAME_S, Frame
from assistant.messages.message import Message
from assistant.visit import bootclock
from assistant.visit.trouble import CANNOT_HEAR, STILL_DEAF

#: How often a microphone that is gone is looked for, and how often that is said, seconds.
_LOOK_S, _SAY_S = 1.0, 60.0


class Source(Protocol):
    """A microphone that is open."""

    def __iter__(self) -> Iterator[Frame]: ...

    def close(self) -> None: ...


class EnduringMicrophone:
    """Opens with ``opened`` and gives its frames; when it is lost, it is opened again as soon as it is there.

    Time goes on meanwhile: the frames that follow are so much later. ``lost`` is told what to say, at once and every
    minute, ``back`` that sound comes again. Raises what ``opened`` raises at first.
    """

    def __init__(
        self,
        opened: Callable[[], Source],
        lost: Callable[[Message], None],
        back: Callable[[], None],
        sleep: Callable[[float], None] = time.sleep,
    ) -> None:
        self._opened, self._lost, self._back, self._sleep = opened, lost, back, sleep
        self._source = opened()

    def __iter__(self) -> Iterator[Frame]:
        after_s, gone_s = 0.0, 0.0
        while True:
            fresh = gone_s > 0
            try:
                for frame in self._source:
                    if fresh:
                        # Its first sound has come: only now it is really there.
                        after_s += bootclock.now_s() - gone_s
                        fresh, gone_s = False, 0.0
                        self._back()
                    shifted = replace(frame, start_s=after_s + frame.start_s)
                    yield shifted
                    end_s = shifted.start_s + FRAME_S
                return
            except SoundDeviceError:
                if gone_s == 0.0:
                    gone_s = bootclock.now_s()
                    after_s = end_s
                    self._lost(CANNOT_HEAR)
                self._source.close()
                self._source = self._found_again()

    def _found_again(self) -> Source:
        waited_s = 0.0
        while True:
            self._sleep(_LOOK_S)
            waited_s += _LOOK_S
            if waited_s >= _SAY_S:
                waited_s = 0.0
                self._lost(STILL_DEAF)
            try:
                look_again()
                return self._opened()
            except SoundDeviceError:
                continue

    def close(self) -> None:
        """Stop listening."""
        self._source.close()
