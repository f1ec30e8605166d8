"""A picture's axes: room beside them for what stands there, reckoned from the words alone, and their frame, grid, ticks
and words.

matplotlib lays everything out once more to find the room, and keeps for each tick five things that can be styled apart:
together twice the time of all else in a picture.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.font_manager import findfont, get_font
from matplotlib.lines import Line2D
from matplotlib.transforms import Transform

#: All in points: around the picture; from an axis over its tick to the words at it; from there to the axis's name.
_EDGE, _TICK, _PAD, _NAME = 3.0, 3.5, 3.5, 4.0
#: From one line of words to the next, in sizes of the letters.
_LINE = 1.25
#: Size at which the letters are measured, points.
_MEASURED = 100.0


@dataclass(frozen=True)
class Look:
    """What stands at the axes, and how: ``size`` of the letters in points, how far the words below are ``turned_deg``,
    their ends at the ticks, points kept free ``above``; ``named``: at the left stand names, without ticks and grid."""

    x_label: str
    y_label: str
    size: float
    ink: str
    soft: str
    grid: str
    turned_deg: float = 0.0
    above: float = 0.0
    named: bool = False


def fit(figure: Figure, axes: Axes, look: Look) -> None:
    """Give the axes what is left of the figure, and draw what belongs to them."""
    width, height = 72 * figure.get_figwidth(), 72 * figure.get_figheight()
    line = _LINE * look.size
    turn = math.radians(look.turned_deg)
    places, below = _words(axes, "x")
    levels, beside = _words(axes, "y")
    widest = max((_width(word) for word in below), default=0.0) * look.size
    bottom = _EDGE + _legend(figure) + _TICK + _PAD + widest * math.sin(turn) + line * math.cos(turn)
    bottom += (_NAME + line) if look.x_label else 0.0
    top = _EDGE + look.above
    tick = 0.0 if look.named else _TICK
    left = (
        _EDGE + tick + _PAD + max((_width(one) for word in beside for one in word.split("\n")), default=0.0) * look.size
    )
    left += (_NAME + line) if look.y_label else 0.0
    left = max(left, _EDGE + (_width(below[0]) * look.size * math.cos(turn) if turn and below else 0.0))
    right = _EDGE + (_width(below[-1]) * look.size / 2 if below and not turn else 0.0)
    figure.subplots_adjust(left / width, bottom / height, 1 - right / width, 1 - top / height)
    axes.set_axis_off()
    point_x, point_y = 1 / (width - left - right), 1 / (height - bottom - top)
    across, up = axes.get_xaxis_transform(), axes.get_yaxis_transform()
    _rules(axes, across, places, (0.0, 1.0), look.grid, 0.6, 0.5)
    _rules(axes, across, places, (-_TICK * point_y, 0.0), look.soft, 0.8, 2.4)
    if not look.named:
        _rules(axes, up, levels, (0.0, 1.0), look.grid, 0.6, 0.5, upright=False)
        _rules(axes, up, levels, (-_TICK * point_x, 0.0), look.soft, 0.8, 2.4, upright=False)
    _line(axes, axes.transAxes, (0.0, 0.0, 1.0), (1.0, 0.0, 0.0), look.soft, 0.8, 2.5)
    words: Any = {"color": look.ink, "fontsize": look.size}
    side = "right" if turn else "center"
    for place, word in zip(places, below, strict=True):
        axes.text(
            place, -(_TICK + _PAD) * point_y, word, transform=across, ha=side, va="top",
            rotation=look.turned_deg, **words,
        )  # fmt: skip
    for place, word in zip(levels, beside, strict=True):
        axes.text(
            -(tick + _PAD) * point_x, place, word, transform=up, ha="right",
            va="center" if "\n" in word else "center_baseline", **words,
        )  # fmt: skip
    if look.x_label:
        under = (_EDGE + _legend(figure) + line - bottom) * point_y
        axes.text(0.5, under, look.x_label, transform=axes.transAxes, ha="center", va="top", **words)
    if look.y_label:
        aside = (_EDGE + line - left) * point_x
        axes.text(
            aside, 0.5, look.y_label, transform=axes.transAxes, ha="center", va="bottom", rotation=90,
            rotation_mode="anchor", **words,
        )  # fmt: skip


def _rules(
    axes: Axes, along: Transform, places: Sequence[float], ends: tuple[float, float], color: str, width: float,
    order: float, upright: bool = True,
) -> None:  # fmt: skip
    """Parallel lines at ``places``, as one path with gaps."""
    at = [value for place in places for value in (place, place, math.nan)]
    run = [*ends, math.nan] * len(places)
    _line(axes, along, at if upright else run, run if upright else at, color, width, order)


def _line(
    axes: Axes, along: Transform, x: Sequence[float], y: Sequence[float], color: str, width: float, order: float
) -> None:
    axes.add_artist(Line2D(x, y, color=color, linewidth=width, zorder=order, transform=along, clip_on=False))


def _words(axes: Axes, which: str) -> tuple[list[float], list[str]]:
    """Where the ticks are that are seen, and what stands there."""
    axis = axes.xaxis if which == "x" else axes.yaxis
    low, high = sorted(axes.get_xlim() if which == "x" else axes.get_ylim())
    places = [float(place) for place in axis.get_majorticklocs() if low <= place <= high]
    return places, list(axis.get_major_formatter().format_ticks(places))


def _legend(figure: Figure) -> float:
    """Height of the legend below, points."""
    height = 0.0
    for legend in figure.legends:
        texts = legend.get_texts()
        size = float(texts[0].get_fontsize())
        lines = sum(text.get_text().count("\n") + 1 for text in texts)
        height += size * (_LINE * lines + legend.labelspacing * (len(texts) - 1) + 2 * legend.borderpad)
    return height


def _width(words: str) -> float:
    """Width of one line of words, in sizes of its letters."""
    return sum(map(_advance, words))


@lru_cache(maxsize=1024)
def _advance(letter: str) -> float:
    font = get_font(findfont("DejaVu Sans"))
    font.set_size(_MEASURED, 72)
    return float(font.load_char(ord(letter)).linearHoriAdvance) / 65536 / _MEASURED
