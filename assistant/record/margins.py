"""Room beside a picture's axes for what stands there, reckoned from the words alone.

matplotlib's own layouts lay everything out once more for it, which takes as long as drawing the picture.
"""

from __future__ import annotations

import math

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import text_to_path
from matplotlib.transforms import blended_transform_factory

#: All in points: around the picture; from an axis over its tick to the words at it; from there to the axis's name.
_EDGE, _TICK, _PAD, _NAME = 3.0, 3.5, 3.5, 4.0
#: From one line of words to the next, in sizes of the letters.
_LINE = 1.25


def fit(figure: Figure, axes: Axes, turned_deg: float = 0.0, above: float = 0.0) -> None:
    """Give the axes what is left of the figure.

    ``turned_deg``: how far the words below are turned, their ends at the ticks; ``above``: points kept free above.
    """
    width, height = 72 * figure.get_figwidth(), 72 * figure.get_figheight()
    size = float(axes.xaxis.label.get_fontsize())
    turn = math.radians(turned_deg)
    below = _words(axes, "x")
    widest = max((_width(word, size) for word in below), default=0.0)
    bottom = _EDGE + _legend(figure) + _TICK + _PAD + widest * math.sin(turn) + _LINE * size * math.cos(turn)
    bottom += (_NAME + _LINE * size) if axes.get_xlabel() else 0.0
    figure.subplots_adjust(bottom=bottom / height, top=1 - (_EDGE + above) / height)
    tick = _TICK if axes.yaxis.get_tick_params().get("length", _TICK) else 0.0
    beside = max((_width(line, size) for word in _words(axes, "y") for line in word.split("\n")), default=0.0)
    left = _EDGE + tick + _PAD + beside + ((_NAME + _LINE * size) if axes.get_ylabel() else 0.0)
    left = max(left, _EDGE + (_width(below[0], size) * math.cos(turn) if turn and below else 0.0))
    right = _EDGE + (_width(below[-1], size) / 2 if below and not turn else 0.0)
    figure.subplots_adjust(left=left / width, right=1 - right / width)
    # Where an axis's name stands is known by now; to find it, matplotlib would lay out all words at the ticks again.
    edges, inside = figure.transFigure, axes.transAxes
    under = (_EDGE + _legend(figure) + _LINE * size) / height
    axes.xaxis.set_label_coords(0.5, under, blended_transform_factory(inside, edges))
    axes.yaxis.set_label_coords((_EDGE + _LINE * size) / width, 0.5, blended_transform_factory(edges, inside))


def _words(axes: Axes, which: str) -> list[str]:
    """What stands at the ticks that are seen."""
    axis = axes.xaxis if which == "x" else axes.yaxis
    low, high = sorted(axes.get_xlim() if which == "x" else axes.get_ylim())
    places = [float(place) for place in axis.get_majorticklocs() if low <= place <= high]
    return list(axis.get_major_formatter().format_ticks(places))


def _legend(figure: Figure) -> float:
    """Height of the legend below, points."""
    height = 0.0
    for legend in figure.legends:
        texts = legend.get_texts()
        size = float(texts[0].get_fontsize())
        lines = sum(text.get_text().count("\n") + 1 for text in texts)
        height += size * (_LINE * lines + legend.labelspacing * (len(texts) - 1) + 2 * legend.borderpad)
    return height


def _width(words: str, size: float) -> float:
    """Width of one line of words, points."""
    if not words:
        return 0.0
    font = FontProperties(family="DejaVu Sans", size=size)
    return float(text_to_path.get_text_width_height_descent(words, font, ismath=False)[0])
