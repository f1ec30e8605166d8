"""The push button: any key of the terminal, or of a headset or pedal that types one, read without waiting for it."""

from __future__ import annotations

import contextlib
import os
import select
import sys
from types import TracebackType
from typing import Any, TextIO

from assistant.errors import LaddersideError

#: A key held down repeats, and a special key sends several signs: a press counts after so long without any.
_STILL_S = 0.7


class NoButton(LaddersideError):
    """A visit by push button needs a keyboard."""


class Button:
    """Keys of the terminal ``stdin`` (default: the program's). Without a terminal there is none, and nothing breaks.

    While entered, keys are not shown and need no Enter; Ctrl-C still stops the program.
    """

    def __init__(self, stdin: TextIO | None = None) -> None:
        self._fd = _terminal(sys.stdin if stdin is None else stdin)
        self._last_s = -_STILL_S
        self._kept: Any = None

    @property
    def there(self) -> bool:
        """Whether there is a terminal to press keys in."""
        return self._fd is not None

    def pressed(self, now_s: float) -> bool:
        """Whether the button was pressed since it was last asked; ``now_s`` is any time that goes forward."""
        if self._fd is None or not self._taken(self._fd):
            return False
        still, self._last_s = now_s - self._last_s >= _STILL_S, now_s
        return still

    def _taken(self, fd: int) -> bool:
        """Takes the keys that wait; a terminal that has gone is no button any more."""
        try:
            ready, _, _ = select.select([fd], [], [], 0)
            if not ready:
                return False
            keys = os.read(fd, 1024)
        except OSError:
            keys = b""
        if not keys:
            self._fd = None
        return bool(keys)

    def __enter__(self) -> Button:
        if self._fd is not None:
            import termios
            import tty

            self._kept = termios.tcgetattr(self._fd)
            tty.setcbreak(self._fd)
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._fd is not None and self._kept is not None:
            import termios

            with contextlib.suppress(termios.error):
                termios.tcsetattr(self._fd, termios.TCSADRAIN, self._kept)


def _terminal(stdin: TextIO | None) -> int | None:
    """Its file descriptor, when it is a terminal that this program may read: not closed, piped or in the background."""
    try:
        fd = stdin.fileno() if stdin is not None else -1
        mine = os.isatty(fd) and os.tcgetpgrp(fd) == os.getpgrp()
    except (OSError, ValueError, AttributeError):
        return None
    return fd if mine else None
