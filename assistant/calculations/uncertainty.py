"""A value judged against limits with the accuracy of the instruments behind it.

Sources: JCGM 100:2008 (GUM) for standard and expanded uncertainty and their propagation, 5.2 and F.1.2.3 for what two
readings of one instrument have in common; JCGM 106:2012 for the chance that a measured quantity lies inside its
limits; ILAC-G8:09/2019 for guard bands as wide as the expanded uncertainty: between "pass" and "fail" lies
"undecided".
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from assistant.calculations.errors import Inconsistent, within
from assistant.calculations.halving import last_where

#: Coverage factor of a normal distribution for 95 % (GUM table G.1 prints 1.960).
COVERAGE_95 = 1.959963984540054
#: A verdict stands when its chance is that of the one-sided end of a 95 % interval: with one limit this is the guard
#: band of ILAC-G8, as wide as the expanded uncertainty.
STANDS_CHANCE = 0.974999999  # less what rounding takes off: a limit just met is met
#: Largest magnitude of any value or limit judged here.
LARGEST = 1e18
#: A reading nearer to its limit than this share of its uncertainty lies on it: no meter is that much better.
ON_THE_LIMIT = 1e-6

GUM = "JCGM 100:2008 (GUM)"
CONFORMITY = "JCGM 106:2012 and ILAC-G8:09/2019"

Verdict = Literal["pass", "fail", "undecided"]
#: The outcomes that are opposite sides of one number: their chances do not add up to one certainty.
SIDES = ("low", "high")


@dataclass(frozen=True)
class Accuracy:
    """An instrument's accuracy, 95 % coverage: percent of reading plus ``offset`` plus half a step of its display.

    ``offset`` and ``resolution`` are in the reading's unit. ``own`` is the part of the offset that each reading has
    afresh (contact, repeatability); the rest is the same in every reading of one instrument. None: all of it.
    Raises OutOfRange for a negative or absurd accuracy, or an own part larger than the whole.
    """

    percent_of_reading: float = 0.0
    offset: float = 0.0
    own: float | None = None
    resolution: float = 0.0

    def __post_init__(self) -> None:
        within("accuracy in percent of reading", self.percent_of_reading, 0, 100, "%")
        within("accuracy offset", self.offset, 0, LARGEST, "")
        within("display step", self.resolution, 0, LARGEST, "")
        if self.own is not None:
            within("part of the offset that each reading has afresh", self.own, 0, self.offset, "")

    def expanded(self, reading: float) -> float:
        """Half-width that holds 95 % of the errors at ``reading``, in the reading's unit."""
        within("reading", reading, -LARGEST, LARGEST, "")
        return abs(reading) * self.percent_of_reading / 100 + self.offset + self.resolution / 2

    @property
    def apart(self) -> float:
        """The part that two readings of one instrument do not share, 95 %, in the reading's unit."""
        return (self.offset if self.own is None else self.own) + self.resolution / 2


#: An instrument that makes no error worth telling, for values that are counted or given.
EXACT = Accuracy()


@dataclass(frozen=True)
class Metered:
    """A reading with what its instrument can do. ``value`` infinite: the display shows an open line.

    ``meter`` names the instrument: readings with the same name share its common error; "" shares with none.
    ``unsteady`` is half the span of a jumping display, or what the circuit moves while it is read.
    """

    value: float
    accuracy: Accuracy = EXACT
    meter: str = field(default="", compare=False)
    unsteady: float = 0.0

    @property
    def open(self) -> bool:
        """The display shows an open line, no number."""
        return math.isinf(self.value)

    @property
    def expanded(self) -> float:
        """95 % uncertainty of this reading alone, in its unit."""
        return math.hypot(self.accuracy.expanded(self.value), self.unsteady)

    @property
    def apart(self) -> float:
        """The part of ``expanded`` that another reading of the same instrument does not share."""
        return min(math.hypot(self.accuracy.apart, self.unsteady), self.expanded)


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


def errors_of(readings: Sequence[Metered]) -> list[tuple[float, ...]]:
    """The independent errors behind ``readings``: for each, by how much (95 %) it shifts every reading.

    One for each instrument that read more than once (what its readings share), and one for each reading alone; their
    squares add up to the square of ``Metered.expanded``. Errors of nothing are left out. Source: GUM F.1.2.3.
    """
    rows: list[tuple[float, ...]] = []
    meters = [r.meter for r in readings]
    shared = {m for m in meters if m and meters.count(m) > 1}
    for meter in sorted(shared):
        rows.append(
            tuple(math.sqrt(max(0.0, r.expanded**2 - r.apart**2)) if r.meter == meter else 0.0 for r in readings)
        )
    for place, reading in enumerate(readings):
        alone = reading.apart if reading.meter in shared else reading.expanded
        rows.append(tuple(alone if i == place else 0.0 for i in range(len(readings))))
    return [row for row in rows if any(row)]


def propagated(
    function: Callable[..., float], values: Sequence[float | Metered], uncertainties: Sequence[float] | None = None
) -> float:
    """Uncertainty of ``function(*values)``.

    ``values`` are readings, whose instruments say how uncertain they are (``errors_of``), or plain numbers with
    independent ``uncertainties`` of one coverage; the result has that coverage. Each part is the larger change of the
    function one uncertainty above and below, which for a smooth function is GUM 5.1.3 note 2 and at a kink (the
    largest departure of equal readings) does not vanish as the difference of the two would.
    Raises Inconsistent when the two lists differ in length, and whatever ``function`` raises.
    """
    readings = [v if isinstance(v, Metered) else Metered(v) for v in values]
    if uncertainties is None:
        rows = errors_of(readings)
    else:
        if len(values) != len(uncertainties):
            raise Inconsistent(f"There are {len(values)} values but {len(uncertainties)} uncertainties.")
        for step in uncertainties:
            within("uncertainty", step, 0, LARGEST, "")
        rows = [tuple(u if i == j else 0.0 for j in range(len(values))) for i, u in enumerate(uncertainties) if u]
    numbers = [r.value for r in readings]
    here = function(*numbers)
    parts = []
    for row in rows:
        above = function(*(n + s for n, s in zip(numbers, row, strict=True)))
        below = function(*(n - s for n, s in zip(numbers, row, strict=True)))
        parts.append(max(abs(above - here), abs(below - here)))
    return combined(parts)


def normal_below(distance_in_standards: float) -> float:
    """Share of a normal distribution below ``distance_in_standards`` (dimensionless, any float)."""
    return 0.5 * math.erfc(-distance_in_standards / math.sqrt(2))


def _chance_under(limit: float, value: float, standard: float) -> float:
    if standard == 0:
        return 1.0 if value < limit else 0.0
    return normal_below((limit - value) / standard)


def _chances(value: float, expanded: float, low: float | None, high: float | None) -> tuple[float, float, float]:
    standard = expanded / COVERAGE_95
    below = 0.0 if low is None else _chance_under(low, value, standard)
    above = 0.0 if high is None else _chance_under(-high, -value, standard)
    return below, max(0.0, 1.0 - below - above), above


def judged(value: float, expanded: float, low: float | None = None, high: float | None = None) -> Judged:
    """Judge ``value`` with 95 % uncertainty ``expanded`` against ``low`` and ``high`` (one unit, ends included).

    pass: the chance of lying inside is 97.5 % or more; fail: that of lying beyond one limit is; else undecided.
    With one limit this is the guard band w = U; a band narrower than twice the uncertainty can never be passed.
    Chances take the error as normal. Source: JCGM 106:2012 clause 7 (chance), ILAC-G8:09/2019 4.2.3.
    Raises Inconsistent without any limit or with low above high; OutOfRange beyond ±1e18.
    """
    within("value", value, -LARGEST, LARGEST, "")
    within("expanded uncertainty", expanded, 0, LARGEST, "")
    check_limits(low, high)
    return against_limits(value, expanded, low, high, _chances(value, expanded, low, high))


def check_limits(low: float | None, high: float | None) -> None:
    """Raise Inconsistent without any limit or with low above high; OutOfRange for a limit beyond ±1e18."""
    if low is None and high is None:
        raise Inconsistent("A value can only be judged against at least one limit.")
    for limit in (low, high):
        if limit is not None:
            within("limit", limit, -LARGEST, LARGEST, "")
    if low is not None and high is not None and low > high:
        raise Inconsistent(f"The lower limit {low:.6g} is above the upper limit {high:.6g}.")


def against_limits(
    value: float, expanded: float, low: float | None, high: float | None, chances: tuple[float, float, float]
) -> Judged:
    """A judgement from the chances below, inside and above, however they were found (one unit; see ``judged``)."""
    below, inside, above = chances
    margin = min(
        value - low if low is not None else math.inf,
        high - value if high is not None else math.inf,
    )
    verdict: Verdict = "undecided"
    if inside >= STANDS_CHANCE:
        verdict = "pass"
    elif max(below, above) >= STANDS_CHANCE:
        verdict = "fail"
    settling = 0.0 if abs(margin) <= ON_THE_LIMIT * expanded else _settling(value, low, high, margin)
    return Judged(verdict, below, inside, above, margin, expanded, settling)


def _settling(value: float, low: float | None, high: float | None, margin: float) -> float:
    """The largest uncertainty with which ``value`` would be decided: the margin, less where both limits are near."""
    if margin < 0 or low is None or high is None:
        return abs(margin)
    return last_where(lambda width: _chances(value, width, low, high)[1] >= STANDS_CHANCE, 0.0, margin)


def certainty(chances: Mapping[str, float], names: Collection[str]) -> float:
    """Chance that one of the outcomes ``names`` is true, as far as one verdict may rest on it.

    The two sides of one number (low, high) count together only where the middle counts too: a meter too coarse for its
    band leaves both likely and says nothing.
    """
    total = sum(chances.get(name, 0.0) for name in names)
    if all(side in names for side in SIDES) and any(n not in names and n not in SIDES for n in chances):
        total -= min(chances.get(side, 0.0) for side in SIDES)
    return total


def stands(chances: Mapping[str, float], names: Collection[str]) -> bool:
    """Whether the outcomes ``names`` together are beyond doubt."""
    return certainty(chances, names) >= STANDS_CHANCE


def better_reading(judgement: Judged, unit: str, what: str = "reading") -> str:
    """One sentence naming the reading that would settle an undecided judgement; empty when it is decided."""
    if judgement.verdict != "undecided":
        return ""
    if judgement.settling == 0:
        return f"The {what} sits on the limit itself; no meter can settle it, so repeat it under other conditions."
    return f"A {what} good to {judgement.settling:.2g} {unit} or better (now {judgement.expanded:.2g}) would settle it."
