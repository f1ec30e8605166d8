"""Draws the pictures of a record as SVG with matplotlib: text stays text, colours are named so that the page can change
them (dark, print), and nothing is told by colour alone: styles, hatches and words say it too."""

from __future__ import annotations

import io
import re
import textwrap
from collections.abc import Sequence
from functools import lru_cache
from typing import Any

from assistant.devices import quiet_stderr
from assistant.record.drawn import Bar, Picture

# The first time the fonts are listed, and where no folder can be written that program complains of each.
with quiet_stderr():
    import matplotlib
    from matplotlib import artist

    # Of every kind of shape the library words its setters for who reads them, a third of the time of loading it.
    artist.Artist._update_set_signature_and_docstring = classmethod(lambda cls: None)  # type: ignore[attr-defined]
    artist.kwdoc = lambda shape: ""  # type: ignore[assignment]

    from matplotlib.axes import Axes
    from matplotlib.axis import Axis
    from matplotlib.backends.backend_svg import FigureCanvasSVG
    from matplotlib.figure import Figure
    from matplotlib.ticker import FixedFormatter, FixedLocator, FuncFormatter, LogLocator, MaxNLocator

    from assistant.record import vectors
    from assistant.record.margins import Look, fit

#: Colours by what they mean, as they leave matplotlib; ``themed`` puts others in their place.
INK, SOFT, GRID, GOOD, BAD, BAND = "#1c2731", "#5b6b79", "#d5dce1", "#1d6b46", "#a33020", "#e4ecf1"
#: Lines of several suspects: a colour each, and a style and a mark for those who see none.
TRACES = ("#14558b", "#a33021", "#6a4c93", "#1d6b47", "#8a5a01")
_STYLES = ("-", "--", "-.", ":", (0, (5, 1, 1, 1, 1, 1)))
_MARKS = ("o", "s", "^", "D", "v")
#: Width in inches: at the width of a phone the letters stay at 9 to 10 pixels.
_WIDTH = 4.7
#: Size of the letters, points.
_SIZE = 9.0
#: The dates below a trend are turned by so much, degrees.
_TURNED = 30.0
_RC: Any = {
    "svg.fonttype": "none",
    "font.family": "DejaVu Sans",
    "font.size": _SIZE,
    "text.color": INK,
    "hatch.linewidth": 0.8,
    "hatch.color": INK,
    "legend.frameon": False,
    "legend.fontsize": 8.5,
    "path.simplify": True,
    # A dollar sign in a name is a dollar sign.
    "text.parse_math": False,
}


@lru_cache(maxsize=64)
def svg(picture: Picture) -> str:
    """The picture as an ``<svg>`` element to stand within a page; the same picture gives the same text."""
    with matplotlib.rc_context({**_RC, "svg.hashsalt": picture.id}):
        figure = Figure(figsize=(_WIDTH, _height(picture)), facecolor="none")
        axes = figure.add_subplot(facecolor="none")
        _DRAWN[picture.kind](axes, picture)
        fit(figure, axes, _look(picture))
        out = io.StringIO()
        FigureCanvasSVG(figure).print_svg(  # type: ignore[no-untyped-call]
            out, metadata={"Date": None, "Creator": None, "Format": None, "Type": None}
        )
    return vectors.embedded(out.getvalue(), picture.id)


def alone(picture: Picture) -> str:
    """The picture as an SVG file of its own, with what it says as title and description."""
    return vectors.of_its_own(svg(picture), picture.title, picture.says)


def themed(text: str, names: dict[str, str]) -> str:
    """``text`` with its colours replaced: by CSS variables on a screen, by plain colours on paper."""
    return re.sub(r"#[0-9a-f]{6}", lambda found: names.get(found[0], found[0]), text)


def _look(picture: Picture) -> Look:
    limits = any(limit for bar in picture.bars for limit in (bar.low, bar.high))
    return Look(
        x_label="checks made (numbered in the table)" if picture.kind == "weights" else picture.x_label,
        y_label=picture.y_label,
        size=_SIZE,
        ink=INK,
        soft=SOFT,
        grid=GRID,
        turned_deg=_TURNED if picture.kind == "trend" else 0.0,
        above=12.0 if limits else 0.0,
        named=picture.kind in ("bars", "pairs"),
    )


def _height(picture: Picture) -> float:
    rows = {"bars": 0.36 * len(picture.bars) + 0.9, "pairs": 0.62 * len(picture.bars) + 0.8}
    legend = 0.22 * sum(len(_wrapped(line.name, 52)) for line in picture.lines) if picture.kind == "weights" else 0.0
    return rows.get(picture.kind, 2.7 + legend + (0.25 if picture.kind in ("sensor", "cycle", "trend") else 0.0))


def _wrapped(text: str, width: int = 24) -> list[str]:
    return textwrap.wrap(text, width) or [""]


def _plain(value: float, _: object = None) -> str:
    return f"{value:g}" if 1e-3 <= abs(value) < 1e6 or value == 0 else f"{value:.0f}"


def _curves(axes: Axes, picture: Picture) -> None:
    """Curve with its band and what was measured."""
    if picture.y_log:
        axes.set_yscale("log")
        axes.yaxis.set_major_locator(LogLocator(subs=(1, 2, 5)))
        axes.yaxis.set_major_formatter(FuncFormatter(_plain))
    edges = [line for line in picture.lines if line.role == "edge"]
    if len(edges) == 2:
        low, high = edges
        axes.fill_between(low.x, low.y, high.y, color=BAND, label="counts as good")
    styles: dict[str, dict[str, Any]] = {
        "curve": {"color": INK, "linewidth": 1.4},
        "edge": {"color": SOFT, "linewidth": 0.7, "linestyle": "--"},
        "path": {"color": TRACES[0], "linewidth": 1.6, "linestyle": "-."},
        "limit": {"color": BAD, "linewidth": 1, "linestyle": "--"},
    }
    for line in picture.lines:
        label = "" if line.role == "edge" or (picture.kind == "cycle" and line.role == "curve") else line.name
        axes.plot(line.x, line.y, label=label or "_", **styles[line.role])
    for place, mark in enumerate(picture.marks):
        color = {True: GOOD, False: BAD, None: INK}[mark.good]
        word = {True: ", good", False: ", not good", None: ""}[mark.good]
        shape = ("X" if mark.good is False else ("o", "s")[place % 2]) if mark.name else "o"
        fill = color if mark.good is not True else "none"
        label = "\n".join(_wrapped(f"{mark.name}{word}", 46)) if mark.name else "_"
        axes.plot(
            [mark.x], [mark.y], linestyle="", marker=shape, markersize=8, color=color, markerfacecolor=fill,
            markeredgewidth=1.6, label=label,
        )  # fmt: skip
    if axes.get_legend_handles_labels()[0]:
        axes.figure.legend(loc="lower center", borderaxespad=0, ncols=1)


def _trend(axes: Axes, picture: Picture) -> None:
    _curves(axes, picture)
    _at(axes.xaxis, picture.x_ticks)


def _at(axis: Axis, words: Sequence[str]) -> None:
    """These words at 0, 1, 2, ... of the axis."""
    axis.set_major_locator(FixedLocator(range(len(words))))
    axis.set_major_formatter(FixedFormatter(words))


def _weights(axes: Axes, picture: Picture) -> None:
    for place, line in enumerate(picture.lines):
        axes.plot(
            line.x, line.y, color=TRACES[place], linestyle=_STYLES[place], marker=_MARKS[place], markersize=3.5,
            markevery=_moved(line.y), linewidth=1.4, label="\n".join(_wrapped(line.name, 52)),
        )  # fmt: skip
    axes.set_ylim(-2, 102)
    axes.xaxis.set_major_locator(MaxNLocator(integer=True, nbins=8))
    axes.figure.legend(loc="lower center", borderaxespad=0, ncols=1)


def _moved(shares: Sequence[float]) -> list[int]:
    """Where a line is marked: at its ends, and at each side of every move that is seen."""
    last = len(shares) - 1
    near = [max(abs(shares[n] - shares[beside]) for beside in (n - 1, n + 1)) for n in range(1, last)]
    return [0, *(n for n, move in enumerate(near, start=1) if move >= 1.0), last]


def _bar(axes: Axes, at: float, bar: Bar, value: float, old: bool, height: float) -> None:
    color = SOFT if old else {True: GOOD, False: BAD, None: TRACES[0]}[bar.good]
    hatch = "" if old or bar.good is not False else "////"
    face = "none" if old or bar.good is False else color
    axes.barh(at, value, height, color=face, edgecolor=color, hatch=hatch, linewidth=1.2)
    word = " before" if old else {True: " ✓", False: " ✗", None: ""}[bar.good]
    # At the end of its bar; where limits are drawn that would hide it, at the side.
    free = bar.low is None and bar.high is None
    axes.annotate(
        f"{_rounded(value)}{word}", (max(value, 0.0) if free else 1, at), va="center", ha="left" if free else "right",
        xycoords="data" if free else ("axes fraction", "data"), xytext=(3 if free else 0, 0),
        textcoords="offset points", color=SOFT if old else INK, fontweight="normal" if old else "bold",
    )  # fmt: skip


def _rounded(value: float) -> str:
    return f"{value:.4g}" if abs(value) < 1e4 else f"{value:.0f}"


def _bars(axes: Axes, picture: Picture) -> None:
    _scale(axes, [bar.value for bar in picture.bars], [e for b in picture.bars for e in (b.low, b.high) if e])
    for at, bar in enumerate(picture.bars):
        _bar(axes, at, bar, bar.value, False, 0.55)
    for name in ("low", "high"):
        ends = {getattr(bar, name) for bar in picture.bars} - {None}
        for end in ends:
            word, side = ("at least", "right") if name == "low" else ("at most", "left")
            axes.axvline(end, color=INK, linestyle="--", linewidth=1)
            axes.annotate(
                f"{word} {_rounded(end)}", (end, 1), xycoords=("data", "axes fraction"), xytext=(0, 2),
                textcoords="offset points", ha=side, va="bottom", fontsize=8,
            )  # fmt: skip
    _named(axes, picture)


def _pairs(axes: Axes, picture: Picture) -> None:
    values = [value for bar in picture.bars for value in (bar.value, bar.beside or 0.0)]
    _scale(axes, values, [])
    for at, bar in enumerate(picture.bars):
        if bar.beside is not None:
            _bar(axes, at - 0.2, bar, bar.beside, True, 0.34)
        _bar(axes, at + 0.2, bar, bar.value, False, 0.34)
    _named(axes, picture)


def _scale(axes: Axes, values: Sequence[float], limits: Sequence[float]) -> None:
    """From nothing to the farthest, with room for the numbers at the right."""
    low, high = min([0.0, *values, *limits]), max([0.0, *values, *limits])
    scale = (high - low) or 1.0
    axes.set_xlim(low - (0.05 * scale if low < 0 else 0.0), high + 0.3 * scale)


def _named(axes: Axes, picture: Picture) -> None:
    names = ["\n".join(_wrapped(bar.name, 22)) for bar in picture.bars]
    _at(axes.yaxis, names)
    axes.invert_yaxis()
    axes.xaxis.set_major_locator(MaxNLocator(nbins=5))


_DRAWN = {"sensor": _curves, "cycle": _curves, "trend": _trend, "weights": _weights, "bars": _bars, "pairs": _pairs}
