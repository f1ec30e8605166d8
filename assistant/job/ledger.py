"""The ledger of a visit: what is noted in passing, and what it comes to."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from assistant.model import Model

#: ``clock-on`` and ``clock-off`` start and stop the work's time, ``break`` stops it for lunch.
What = Literal["note", "photo", "part", "recovered", "charged", "travel", "clock-on", "clock-off", "break"]
#: What holds free words.
FREE: frozenset[str] = frozenset({"note", "part"})


class Entry(Model):
    """One thing noted. ``text`` is a note or a part's name; ``count`` and ``source`` are of a part ("the van").

    ``kg`` is a mass of refrigerant in kg, ``spoken`` the same as it was said; ``cylinder`` where it came from or went.
    ``minutes`` is a time of travel.
    """

    what: What
    text: str = ""
    count: float = 1
    source: str = ""
    kg: float | None = None
    spoken: str = ""
    cylinder: str = ""
    minutes: float | None = None


class Line(Model):
    """An entry in the ledger: its number, who noted it, the visit's time in s. ``struck``: replaced or taken out."""

    number: int
    entry: Entry
    by: str = ""
    at_s: float = 0.0
    struck: bool = False


def counting(lines: Iterable[Line]) -> tuple[Line, ...]:
    """The lines that count."""
    return tuple(line for line in lines if not line.struck)


def worked_s(lines: Iterable[Line], now_s: float) -> float:
    """The time on the clock so far, s: from each start to the next stop or break."""
    total, since = 0.0, None
    for line in counting(lines):
        if line.entry.what == "clock-on" and since is None:
            since = line.at_s
        elif line.entry.what in ("clock-off", "break") and since is not None:
            total, since = total + line.at_s - since, None
    return total + (now_s - since if since is not None else 0.0)


def clock_runs(lines: Iterable[Line]) -> bool:
    """Whether the clock is running."""
    stamps = [line.entry.what for line in counting(lines) if line.entry.what in ("clock-on", "clock-off", "break")]
    return bool(stamps) and stamps[-1] == "clock-on"


def travelled_min(lines: Iterable[Line]) -> float:
    """All travel, minutes."""
    return sum(line.entry.minutes or 0.0 for line in counting(lines) if line.entry.what == "travel")
