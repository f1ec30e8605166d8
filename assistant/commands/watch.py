"""Runs a live visit in a child process: should a recognizer's own code take the program down, it goes on by itself.

The child tells once a second that it is alive. When it crashes, or is silent for too long, a new one resumes the visit
at the same question: every answer was on the disk before it was spoken about.
"""

from __future__ import annotations

import contextlib
import ctypes
import os
import select
import signal
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from assistant.errors import LaddersideError

#: A child that has not been heard of for this long hangs, seconds; what the machine did not let it run for is not
#: counted. Models load within ten on a slow machine.
SILENT_S = 45.0
#: So many crashes, each within so many seconds of its start, and nobody is helped by another try.
_MOST, _SOON_S = 3, 60.0
#: How often the watcher looks, seconds.
_LOOK_S = 0.2
#: Who ends a visit with one of these wants it ended, not resumed.
_ASKED = (signal.SIGINT, signal.SIGTERM, getattr(signal, "SIGHUP", signal.SIGTERM))
#: From siginfo.h and prctl.h.
_SENT_BY_A_PROGRAM, _PR_SET_PDEATHSIG = 0, 1


class KeepsFailing(LaddersideError):
    """The visit crashes again and again."""


class Alive:
    """What the child tells its watcher; one that nobody watches tells nobody."""

    def __init__(self, pipe: int | None = None) -> None:
        self._pipe = pipe
        self._told = 0.0

    def tell(self) -> None:
        """Call it as often as you like."""
        now = time.monotonic()
        if self._pipe is not None and now - self._told > 1.0:
            self._told = now
            try:
                os.write(self._pipe, b".")
            except OSError:
                self._pipe = None


def watched(visit: Callable[[Alive, bool], int], silent_s: float = SILENT_S) -> int:
    """Run ``visit(alive, again)`` and run it again when it crashes or hangs; its exit status.

    ``again`` is true when the visit is to be resumed. It returns in the child too, with what ``visit`` gave. Where
    there is no ``fork`` the visit runs here, unwatched. Raises KeepsFailing.
    """
    if not hasattr(os, "fork"):
        return visit(Alive(), False)
    crashes: list[float] = []
    while True:
        began = time.monotonic()
        child = _child()
        if isinstance(child, Alive):
            return visit(child, bool(crashes))
        status = _outcome(*child, silent_s)
        if status is not None:
            return status
        crashes = [*(crashed for crashed in crashes if began - crashed < _MOST * _SOON_S), began]
        if len(crashes) >= _MOST:
            raise KeepsFailing(
                "The visit crashed three times within minutes and is not tried again; every answer is kept. "
                "`ladderside type --resume` goes on by keyboard, and `ladderside ears` tells which ear fails."
            )
        print("  ·  the program crashed; the visit goes on where it was", file=sys.stderr, flush=True)


def _child() -> Alive | tuple[int, int]:
    """In the child what it tells through; in the watcher the child's number and the pipe that it is heard through."""
    ours, its = os.pipe()
    sys.stdout.flush()
    sys.stderr.flush()
    pid = os.fork()
    if pid:
        os.close(its)
        return pid, ours
    os.close(ours)
    _die_with_parent()
    return Alive(its)


def _die_with_parent() -> None:
    """A visit whose watcher was killed ends as well: else nobody could stop it, or resume it elsewhere."""
    with contextlib.suppress(OSError, AttributeError):
        ctypes.CDLL(None).prctl(_PR_SET_PDEATHSIG, signal.SIGKILL)


def _outcome(pid: int, pipe: int, silent_s: float) -> int | None:
    """The child's exit status, or None when it crashed or had to be killed because it hung."""
    terminal = _terminal()
    with _signals_for(pid) as look:
        heard, starved = time.monotonic(), starved_s(pid)
        while True:
            look()
            if select.select([pipe], [], [], _LOOK_S)[0]:
                if not os.read(pipe, 4096):
                    break
                heard, starved = time.monotonic(), starved_s(pid)
            elif (silent := time.monotonic() - heard) > silent_s and silent > silent_s + held_up_s(
                starved, starved_s(pid)
            ):
                os.kill(pid, signal.SIGKILL)
                break
        _, ended = os.waitpid(pid, 0)
    os.close(pipe)
    if os.WIFEXITED(ended):
        return os.WEXITSTATUS(ended)
    _restore(terminal)
    asked = os.WTERMSIG(ended) in _ASKED
    return 128 + os.WTERMSIG(ended) if asked else None


def starved_s(pid: int) -> dict[str, float]:
    """How long each thread of a process was ready to run and was not let, seconds; empty where the system tells not."""
    waits: dict[str, float] = {}
    for thread in Path(f"/proc/{pid}/task").glob("*"):
        with contextlib.suppress(OSError, ValueError, IndexError):
            waits[thread.name] = int((thread / "schedstat").read_text().split()[1]) / 1e9
    return waits


def held_up_s(before: dict[str, float], now: dict[str, float]) -> float:
    """How long the thread that was let least had to wait meanwhile: that is the machine's doing and no hang."""
    return max((waited - before.get(thread, 0.0) for thread, waited in now.items()), default=0.0)


@contextlib.contextmanager
def _signals_for(pid: int) -> Iterator[Callable[[], None]]:
    """Signals to end are the child's: what the terminal sends has reached it too, what was sent to us is passed on."""
    if not hasattr(signal, "sigtimedwait"):
        before = signal.signal(signal.SIGINT, signal.SIG_IGN)
        yield lambda: None
        signal.signal(signal.SIGINT, before)
        return

    def look() -> None:
        found = signal.sigtimedwait(_ASKED, 0)
        if found is not None and found.si_code == _SENT_BY_A_PROGRAM:
            os.kill(pid, found.si_signo)

    before_mask = signal.pthread_sigmask(signal.SIG_BLOCK, _ASKED)
    try:
        yield look
    finally:
        while signal.sigtimedwait(_ASKED, 0) is not None:
            pass
        signal.pthread_sigmask(signal.SIG_SETMASK, before_mask)


def _terminal() -> list[object] | None:
    """How the keyboard is set; a child that crashes leaves it as it had it."""
    try:
        import termios

        return list(termios.tcgetattr(sys.stdin.fileno()))
    except (ImportError, OSError, ValueError, AttributeError):
        return None
    except Exception:  # termios.error, where there is termios
        return None


def _restore(terminal: list[object] | None) -> None:
    if terminal is not None:
        import termios

        with contextlib.suppress(termios.error, OSError, ValueError):
            termios.tcsetattr(sys.stdin.fileno(), termios.TCSADRAIN, terminal)  # type: ignore[arg-type]
