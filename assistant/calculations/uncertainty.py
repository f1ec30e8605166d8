"""A value judged against limits with the instrument's accuracy.

Sources: JCGM 100:2008 (GUM) for standard and expanded uncertainty and their propagation; JCGM 106:2012
for the chance that a measured quantity lies inside its limits; ILAC-G8:09/2019 for guard bands as wide as
the expanded uncertainty: between "pass" and "fail" lies "undecided".
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

from assistant.calculations.errors import Inconsistent, within

#: Coverage factor of a normal distribution for 95 % (GUM table G.1 prints 1.960).
COVERAGE_95 = 1.959963984540054
#: Largest magnitude of any value or limit judged here.
LARGEST = 1e18

GUM = "JCGM 100:2008 (GUM)"
CONFORMITY = "JCGM 106:2012 and ILAC-G8:09/2019"

Verdict = Literal["pass", "fail", "undecided"]


@dataclass(frozen=True)
class Accuracy:
    """An instrument's accuracy: ``percent_of_reading`` plus ``offset`` (in the reading's unit), 95 % coverage.

    Raises OutOfRange for a negative or absurd accuracy.
    """

    percent_of_reading: float = 0.0
    offset: float = 0.0

    def __post_init__(self) -> None:
        within("accuracy in percent of reading", self.percent_of_reading, 0, 100, "%")
        within("accuracy offset", self.offset, 0, LARGEST, "")

    def expanded(self, reading: float) -> float:
        """Half-width that holds 95 % of the errors at ``reading``, in the reading's unit."""
        within("reading", reading, -LARGEST, LARGEST, "")
        return abs(reading) * self.percent_of_reading / 100 + self.offset


class Judged(NamedTuple):
    """A value against limits.

    ``chance_below``, ``chance_inside`` and ``chance_above`` sum to 1. ``margin`` is the distance to the nearest
    limit, positive inside. ``expanded`` is the 95 % uncertainty used; ``settling`` the expanded uncertainty
    that a reading must stay under to be decided (0: the value sits on the limit and no meter can settle it).
    """

    verdict: Verdict
    chance_below: float
    chance_inside: float
    chance_above: float
    margin: float
    expanded: float
    settling: float


def standard_from_limits(half_width: float, shape: Literal["rectangular", "triangular", "normal95"]) -> float:
    """Standard uncertainty from a half-width: a/√3, a/√6 or a/1.96. Source: GUM 4.3.4, 4.3.7, 4.3.9.

    ``half_width`` in any unit, 0 to 1e18; the result is in the same unit.
    """
    within("half-width", half_width, 0, LARGEST, "")
    return half_width / {"rectangular": math.sqrt(3), "triangular": math.sqrt(6), "normal95": COVERAGE_95}[shape]


def combined(parts: Sequence[float]) -> float:
    """Root of the sum of squares of independent parts in one unit. Source: GUM 5.1.2 equation (10)."""
    for part in parts:
        within("part of the uncertainty", part, 0, LARGEST, "")
    return math.hypot(*parts)


def propagated(function: Callable[..., float], values: Sequence[float], uncertainties: Sequence[float]) -> float:
    """Uncertainty of ``function(*values)`` from independent uncertainties of its arguments.

    Each part is half the difference of the function one uncertainty above and below the value, so standard
    uncertainties give a standard one and expanded ones (one coverage) an expanded one. Source: GUM 5.1.3 note 2.
    Raises Inconsistent when the two lists differ in length, and whatever ``function`` raises.
    """
    if len(values) != len(uncertainties):
        raise Inconsistent(f"There are {len(values)} values but {len(uncertainties)} uncertainties.")
    parts = []
    for place, step in enumerate(uncertainties):
        within("uncertainty", step, 0, LARGEST, "")
        above, below = list(values), list(values)
        above[place] += step
        below[place] -= step
        parts.append(abs(function(*above) - function(*below)) / 2 if step else 0.0)
    return combined(parts)


def normal_below(distance_in_standards: float) -> float:
    """Share of a normal distribution below ``distance_in_standards`` (dimensionless, any float)."""
    return 0.5 * math.erfc(-distance_in_standards / math.sqrt(2))


def _chance_under(limit: float, value: float, standard: float) -> float:
    if standard == 0:
        return 1.0 if value < limit else 0.0
    return normal_below((limit - value) / standard)


def judged(value: float, expanded: float, low: float | None = None, high: float | None = None) -> Judged:
    """Judge ``value`` with 95 % uncertainty ``expanded`` against ``low`` and ``high`` (one unit, ends included).

    pass: the whole of value ± expanded is inside; fail: the whole of it is outside; else undecided. A band
    narrower than twice the uncertainty can therefore never be passed. Chances take the error as normal.
    Source: JCGM 106:2012 clause 7 (chance), ILAC-G8:09/2019 4.2.3 (guard band w = U).
    Raises Inconsistent without any limit or with low above high; OutOfRange beyond ±1e18.
    """
    within("value", value, -LARGEST, LARGEST, "")
    within("expanded uncertainty", expanded, 0, LARGEST, "")
    if low is None and high is None:
        raise Inconsistent("A value can only be judged against at least one limit.")
    for limit in (low, high):
        if limit is not None:
            within("limit", limit, -LARGEST, LARGEST, "")
    if low is not None and high is not None and low > high:
        raise Inconsistent(f"The lower limit {low:.6g} is above the upper limit {high:.6g}.")
    standard = expanded / COVERAGE_95
    below = 0.0 if low is None else _chance_under(low, value, standard)
    above = 0.0 if high is None else _chance_under(-high, -value, standard)
    margins = [value - low] if low is not None else []
    margins += [high - value] if high is not None else []
    margin = min(margins)
    verdict: Verdict = "undecided"
    if margin >= expanded:
        verdict = "pass"
    elif -margin > expanded:
        verdict = "fail"
    return Judged(verdict, below, max(0.0, 1.0 - below - above), above, margin, expanded, abs(margin))


def better_reading(judgement: Judged, unit: str, what: str = "reading") -> str:
    """One sentence naming the reading that would settle an undecided judgement; empty when it is decided."""
    if judgement.verdict != "undecided":
        return ""
    if judgement.settling == 0:
        return f"The {what} sits on the limit itself; no meter can settle it, so repeat it under other conditions."
    return f"A {what} good to {judgement.settling:.2g} {unit} or better (now {judgement.expanded:.2g}) would settle it."
