"""Ears that are watched: when a recognizer fails or hangs they are made anew, and what was said is asked again."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Any, Protocol, TypeVar

from assistant.errors import LaddersideError
from assistant.hearing.sound.audio import SAMPLE_RATE, Audio, Utterance
from assistant.language.meaning import Expectation, Heard

#: An utterance is judged within a second on two cores; a machine with much else to do gets this and twice its length.
PATIENCE_S = 10.0
#: After so long whoever spoke would wonder whether it was heard.
SLOW_S = 2.5

_T = TypeVar("_T")


class EarsLost(LaddersideError):
    """The ears failed over an utterance; new ones are there for the next."""


class LiveEars(Protocol):
    """The ears of a live visit (see ``late.LateEars``)."""

    def ensure(self) -> None: ...

    def expect(self, expectation: Expectation) -> None: ...

    def begin(self, utterance: Utterance) -> None: ...

    def judge(self, utterance: Utterance) -> Heard: ...

    def cry(self, audio: Audio) -> str | None: ...

    def is_call(self, audio: Audio) -> bool: ...


class WatchedEars:
    """Ears made by ``make``. ``noticed`` is told of each failure, while its exception is handled; ``slow`` when an
    utterance takes longer than SLOW_S to judge.
    """

    def __init__(
        self,
        make: Callable[[], LiveEars],
        noticed: Callable[[str], None] = lambda what: None,
        patience_s: float = PATIENCE_S,
        slow: Callable[[], None] = lambda: None,
        slow_s: float = SLOW_S,
    ) -> None:
        self._make, self._noticed, self._patience_s = make, noticed, patience_s
        self._slow, self._slow_s = slow, slow_s
        self._ears = make()
        self._expected: Expectation | None = None

    def ensure(self) -> None:
        """Raises what the ears raise when one cannot be had."""
        self._ears.ensure()

    def expect(self, expectation: Expectation) -> None:
        """Listens for the answers to this question from now on."""
        self._expected = expectation
        try:
            self._ears.expect(expectation)
        except Exception:
            self._anew("the ears failed")

    def begin(self, utterance: Utterance) -> None:
        """Starts on an utterance that is probably over; when that fails ``judge`` will tell."""
        try:
            self._ears.begin(utterance)
        except Exception:
            self._anew("the ears failed")

    def judge(self, utterance: Utterance) -> Heard:
        """What was said and how far it may be trusted. Raises EarsLost."""
        ears = self._ears
        try:
            seconds = self._patience_s + 2 * len(utterance.audio) / SAMPLE_RATE
            return _within(seconds, lambda: ears.judge(utterance), self._slow_s, self._slow)
        except TimeoutError:
            self._anew("the ears did not answer")
        except Exception:
            self._anew("the ears failed")
        raise EarsLost("The ears failed over this utterance; new ones are there, so say it again.")

    def cry(self, audio: Audio) -> str | None:
        """ "stop" or "wait", when it is one of them."""
        try:
            return self._ears.cry(audio)
        except Exception:
            self._anew("the ears failed")
            return None

    def is_call(self, audio: Audio) -> bool:
        """Whether this is the wake phrase."""
        try:
            return self._ears.is_call(audio)
        except Exception:
            self._anew("the ears failed")
            return False

    def _anew(self, what: str) -> None:
        """New ears for the same question. A hung one cannot be ended; it is left alone, and dies with the program."""
        self._noticed(what)
        self._ears = self._make()
        if self._expected is not None:
            self._ears.expect(self._expected)


def _within(seconds: float, work: Callable[[], _T], slow_s: float, slow: Callable[[], None]) -> _T:
    """What ``work`` gives, done aside; ``slow`` is called after ``slow_s``. Raises TimeoutError, or what it raises."""
    done: list[Any] = []

    def run() -> None:
        try:
            done.append((work(), None))
        except BaseException as error:
            done.append((None, error))

    worker = threading.Thread(target=run, daemon=True)
    worker.start()
    worker.join(min(slow_s, seconds))
    if worker.is_alive():
        slow()
        worker.join(seconds - slow_s)
    if not done:
        raise TimeoutError
    result, error = done[0]
    if error is not None:
        raise error
    given: _T = result
    return given
