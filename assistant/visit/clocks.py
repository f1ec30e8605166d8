"""The time of a conversation: by the sound that has passed, or by the machine."""

from __future__ import annotations

from assistant.visit import bootclock


class StreamClock:
    """Seconds of sound taken in so far; a resumed visit goes on from ``offset_s``."""

    def __init__(self, offset_s: float = 0.0) -> None:
        self.offset_s = offset_s
        self.heard_s = 0.0

    def now_s(self) -> float:
        return self.offset_s + self.heard_s


class LiveClock(StreamClock):
    """For a microphone: sound that was lost and a machine that slept still took their time."""

    def __init__(self) -> None:
        super().__init__()
        self._start_s = bootclock.now_s()

    def now_s(self) -> float:
        return self.offset_s + max(self.heard_s, bootclock.now_s() - self._start_s)
