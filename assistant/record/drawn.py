"""What the record draws, as data: lines, marks and bars on axes with what to see; the weights of the suspects."""

from __future__ import annotations

from typing import Literal

from pydantic import AwareDatetime

from assistant.model import Model


class Line(Model):
    """A line of a picture. ``role``: curve (what should be), edge (the end of a band), path (what was), limit."""

    name: str
    role: Literal["curve", "edge", "path", "limit"]
    x: tuple[float, ...]
    y: tuple[float, ...]


class Mark(Model):
    """A measured point. ``good`` None: it was not judged."""

    name: str
    x: float
    y: float
    good: bool | None = None


class Bar(Model):
    """A bar against its limits; ``beside`` is the same thing before a repair."""

    name: str
    value: float
    low: float | None = None
    high: float | None = None
    good: bool | None = None
    beside: float | None = None


class Picture(Model):
    """A picture as data: what every form draws, and the table behind it. ``says`` tells in one sentence what to see.

    ``kind``: sensor, bars, cycle, weights, pairs or trend.
    """

    id: str
    kind: Literal["sensor", "bars", "cycle", "weights", "pairs", "trend"]
    title: str
    says: str
    x_label: str = ""
    y_label: str = ""
    y_log: bool = False
    lines: tuple[Line, ...] = ()
    marks: tuple[Mark, ...] = ()
    bars: tuple[Bar, ...] = ()
    x_ticks: tuple[str, ...] = ()
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    source: str = ""


class Weight(Model):
    """A suspect's share of what is believed, 0 to 1."""

    suspect: str
    name: str
    share: float


class WeightStep(Model):
    """What was believed after one judged check (or at the start: no check), heaviest first."""

    at: AwareDatetime
    check: str
    weights: tuple[Weight, ...]
