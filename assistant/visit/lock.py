"""One visit, one writer: a lock on the visit that says who holds it, and that no crash can leave behind.

The operating system holds the lock and gives it back when the program ends, however it ends. The file's text only says
who it is, for the one who is refused.
"""

from __future__ import annotations

import json
import os
import platform
import re
import sys
import time
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import IO, Any, ClassVar
from weakref import WeakSet

from assistant.errors import LaddersideError

#: Windows locks a byte and lets nobody read it: one far behind the text.
_FAR = 1 << 30
#: How often, and after how many seconds again, it is looked who has a lock that has just been taken.
_LOOKS, _LOOK_S = 20, 0.05


class VisitTaken(LaddersideError):
    """Another program is writing this visit."""


class VisitLock:
    """Held from its making until ``close``. VisitTaken when another program has it; OSError when it cannot be made.

    ``held``: the locks of this program.
    """

    held: ClassVar[WeakSet[VisitLock]] = WeakSet()

    def __init__(self, folder: Path, visit: str) -> None:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        self.path = path = folder / f"{re.sub('[^A-Za-z0-9-]', '_', visit)}.lock"
        self._file: IO[str] = os.fdopen(os.open(path, os.O_RDWR | os.O_CREAT, 0o600), "r+", encoding="utf-8")
        if not _take(self._file):
            holder = _patiently(self._file)
            self._file.close()
            raise VisitTaken(
                f"Visit {visit} is under way in another program{holder}. One visit has one writer: go on there, or end "
                "that program and resume again. Its record can be read meanwhile."
            )
        self.held.add(self)
        self._file.truncate(0)
        json.dump(_us(), self._file)
        self._file.flush()

    def close(self) -> None:
        """Give it back."""
        self.held.discard(self)
        self._file.close()

    def __enter__(self) -> VisitLock:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


def _us() -> dict[str, Any]:
    # Not getpass: it asks the system's name service, through a socket, where no variable tells.
    user = next((name for each in ("LOGNAME", "USER", "LNAME", "USERNAME") if (name := os.environ.get(each))), "")
    try:
        place = os.ttyname(sys.stdin.fileno())
    except (OSError, ValueError, AttributeError):
        place = ""
    words = [Path(sys.argv[0]).name if sys.argv else "", *sys.argv[1:2]]
    since = datetime.now().isoformat(timespec="minutes")
    return {
        "who": user,
        "host": platform.node(),
        "place": place,
        "pid": os.getpid(),
        "program": " ".join(words).strip(),
        "since": since,
    }


def _patiently(file: IO[str]) -> str:
    """Who has it; one that took it this very moment has not written yet who it is."""
    for _ in range(_LOOKS):
        if holder := _holder(file):
            return holder
        time.sleep(_LOOK_S)
    return ""


def _holder(file: IO[str]) -> str:
    try:
        file.seek(0)
        told = json.loads(file.read(4096))
        place = f", {told['place']}" if told["place"] else ""
        return (
            f": {told['program']} by {told['who']} on {told['host']}{place}, process {told['pid']}, since "
            f"{told['since'].replace('T', ' ')}"
        )
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return ""


def _take(file: IO[str]) -> bool:
    """Whether the lock is ours now."""
    try:
        import fcntl
    except ImportError:
        return _take_on_windows(file)
    try:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    return True


def _take_on_windows(file: IO[str]) -> bool:
    msvcrt: Any = __import__("msvcrt")
    os.lseek(file.fileno(), _FAR, os.SEEK_SET)
    try:
        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
    except OSError:
        return False
    finally:
        os.lseek(file.fileno(), 0, os.SEEK_SET)
    return True
