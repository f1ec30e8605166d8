"""A clock that nobody can set: seconds since the machine was started, sleep included, and which start it was.

Waits for capacitors go by it. The wall clock is for the record only: it may be wrong, be set, or jump by a day.
"""

from __future__ import annotations

import time
from functools import lru_cache
from pathlib import Path

#: Linux names each start of the machine.
_BOOT_ID = Path("/proc/sys/kernel/random/boot_id")
#: Linux alone has a monotonic clock that stops in suspend; this one does not. Elsewhere the monotonic clock goes on.
_SLEEPLESS = getattr(time, "CLOCK_BOOTTIME", None)


def now_s() -> float:
    """Seconds that only ever grow, at their true rate, also while the machine sleeps."""
    return time.monotonic() if _SLEEPLESS is None else time.clock_gettime(_SLEEPLESS)


@lru_cache(maxsize=1)
def boot() -> str:
    """This start of the machine; "" where it has no name. Two times may be compared only within one start."""
    try:
        return _BOOT_ID.read_text(encoding="ascii").strip()
    except (OSError, ValueError):
        return ""
