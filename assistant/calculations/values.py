"""One or several numbers against fixed limits: a value, a share of a nominal one, a fall under load, likeness.

Readings in any unit, limits in the same; percentages where the name says so.
"""

from __future__ import annotations

from collections.abc import Sequence

from assistant.calculations.errors import Inconsistent, within
from assistant.calculations.found import Found, certain, sided
from assistant.calculations.sampling import judged_by_sampling
from assistant.calculations.uncertainty import LARGEST, Metered, judged, propagated

#: A reading under this share of what is wanted means that nothing is there. Common practice, no source.
ABSENT_SHARE = 0.1
ALIKE_SOURCE = "largest less smallest reading, in percent of their mean"

SIDED = ("low", "ok", "high")


def judge_value(reading: Metered, low: float | None = None, high: float | None = None) -> Found:
    """``reading`` between ``low`` and ``high`` (one may be missing): low, ok, high; an open line is "open".

    Raises Inconsistent without any limit or with low above high, OutOfRange beyond ±1e18.
    """
    if reading.open:
        return Found(certain("open", (*SIDED, "open")), ("ok",))
    against = judged(reading.value, reading.expanded, low, high)
    return Found(sided(against), ("ok",), values={"value": reading.value}, against=against)


def judge_at_least(reading: Metered, low: float) -> Found:
    """``reading`` of at least ``low``: ok, low, or absent (``ABSENT_SHARE``); an open line is more than any limit."""
    if reading.open:
        return Found(certain("ok", ("low", "ok", "absent")), ("ok",))
    if within("reading", reading.value, -LARGEST, LARGEST, "") < ABSENT_SHARE * low:
        return Found(certain("absent", ("low", "ok", "absent")), ("ok",), values={"value": reading.value})
    against = judged(reading.value, reading.expanded, low, None)
    chances = {**sided(against, ("low", "ok", "ok")), "absent": 0.0}
    return Found(chances, ("ok",), values={"value": reading.value}, against=against)


def judge_share(reading: Metered, nominal: float, low_percent: float | None, high_percent: float | None) -> Found:
    """``reading`` in percent of ``nominal`` (not nothing) between the two percentages: low, ok, high."""
    within("nominal value", abs(nominal), 1e-12, LARGEST, "")
    share = 100 / nominal
    against = judged(reading.value * share, reading.expanded * abs(share), low_percent, high_percent)
    return Found(sided(against), ("ok",), values={"share": reading.value * share}, against=against)


def fall_percent(idle: float, loaded: float) -> float:
    """How far ``loaded`` lies under ``idle`` (not nothing), in percent of it; negative when it rises."""
    within("value without load", abs(idle), 1e-9, LARGEST, "")
    within("value under load", loaded, -LARGEST, LARGEST, "")
    return 100 * (idle - loaded) / idle


def judge_drop(idle: Metered, loaded: Metered, largest_percent: float) -> Found:
    """A voltage falls by ``largest_percent`` (0.01 to 100) at most under load: ok or high.

    Read with one meter, its percentage cancels. Raises OutOfRange for an idle voltage of nothing.
    """
    within("largest drop", largest_percent, 0.01, 100, "%")
    value = fall_percent(idle.value, loaded.value)
    against = judged(value, propagated(fall_percent, (idle, loaded)), None, largest_percent)
    return Found(sided(against, ("ok", "ok", "high")), ("ok",), values={"drop": value}, against=against)


def spread(*values: float) -> float:
    """Largest less smallest. Raises Inconsistent for fewer than two values, OutOfRange beyond ±1e18."""
    if len(values) < 2:
        raise Inconsistent("At least two readings are needed to compare them.")
    for value in values:
        within("reading", value, -LARGEST, LARGEST, "")
    return max(values) - min(values)


def spread_percent(*values: float) -> float:
    """Largest less smallest in percent of the mean. Raises Inconsistent when the mean is about nothing."""
    wide, mean = spread(*values), sum(values) / max(1, len(values))
    if abs(mean) <= 1e-9 * max(abs(v) for v in values):
        raise Inconsistent("The readings are about nothing, so they cannot be compared by percent.")
    return 100 * wide / abs(mean)


def judge_alike(readings: Sequence[Metered], largest: float, in_percent: bool) -> Found:
    """Two or more like readings differ by ``largest`` at most, in their unit or in percent of the mean.

    same, different, or open (one open line among numbers, or all open). Judged by sampling: the spread of equal
    readings has a kink. Raises Inconsistent for fewer than two readings.
    """
    outcomes = ("same", "different", "open")
    if len(readings) < 2:
        raise Inconsistent("At least two readings are needed to compare them.")
    if any(reading.open for reading in readings):
        return Found(certain("open", outcomes), ("same",))
    against = judged_by_sampling(spread_percent if in_percent else spread, readings, None, largest)
    value = (spread_percent if in_percent else spread)(*(reading.value for reading in readings))
    chances = {**sided(against, ("same", "same", "different")), "open": 0.0}
    unfit = against.verdict == "undecided" and value <= largest and not _could_pass(readings, largest, in_percent)
    told = "same" if unfit else ""
    return Found(chances, ("same",), values={"spread": value}, against=against, told=told, unfit=unfit)


def _could_pass(readings: Sequence[Metered], largest: float, in_percent: bool) -> bool:
    """Whether these instruments could have passed readings that are quite the same."""
    mean = sum(reading.value for reading in readings) / len(readings)
    equal = [Metered(mean, r.accuracy, r.meter, r.unsteady) for r in readings]
    return judged_by_sampling(spread_percent if in_percent else spread, equal, None, largest).verdict == "pass"


def judge_difference(
    first: Metered, second: Metered, low: float | None, high: float | None, expects: str = "either"
) -> Found:
    """Difference of two like readings between ``low`` and ``high``: low, ok, high.

    ``expects``: "second-lower" counts first less second, "second-higher" the reverse, so that the wrong way round is
    below any limit; "either" counts the difference whichever is the greater.
    """
    sign = {"second-lower": 1.0, "second-higher": -1.0}.get(expects)

    def difference(a: float, b: float) -> float:
        return abs(a - b) if sign is None else sign * (a - b)

    value = difference(first.value, second.value)
    if sign is None:  # at equal readings the size of the difference has a kink
        against = judged_by_sampling(difference, (first, second), low, high)
    else:
        against = judged(value, propagated(difference, (first, second)), low, high)
    return Found(sided(against), ("ok",), values={"difference": value}, against=against)
