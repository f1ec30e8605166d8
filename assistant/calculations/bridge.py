"""The six arms of a three-phase bridge in diode mode: P and N against U, V and W.

Only with the unit isolated, the bus proved dead and the motor unplugged. Volts on the diode range.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, NamedTuple

from assistant.calculations.errors import Inconsistent, UnknownName, within
from assistant.calculations.uncertainty import Accuracy, Judged, combined, judged

ARMS = ("p-u", "p-v", "p-w", "n-u", "n-v", "n-w")
#: Common practice, no source: a silicon freewheel diode 0.3 to 0.7 V; alike within 0.05 V; under 0.1 V shorted.
FORWARD_LOW_V, FORWARD_HIGH_V, ALIKE_V, SHORT_BELOW_V = 0.3, 0.7, 0.05, 0.1
BRIDGE_SOURCE = (
    "forward 0.3 to 0.7 V one way and open the other, like arms within 0.05 V, under 0.1 V shorted: "
    "common practice, no source"
)

Outcome = Literal["ok", "shorted", "open", "uneven", "leaky"]
OUTCOMES: tuple[Outcome, ...] = ("ok", "shorted", "open", "uneven", "leaky")
MEANS: dict[Outcome, str] = {
    "ok": "The six diodes are alike; a switch that does not open or a dead gate drive can still hide behind them.",
    "shorted": "The arm conducts both ways: the power module is shorted there.",
    "open": "The arm does not conduct: a broken bond or a trace is open there.",
    "uneven": "The arm stands apart from its neighbours: damage begins there, or the probe did not touch well.",
    "leaky": "The arm passes current backwards: leakage, or a bus capacitor still charging through it.",
}


class BridgeJudgement(NamedTuple):
    """``outcome`` likeliest with ``chances`` of all (sum 1), the ``arms`` it speaks of, and what that ``means``.

    ``spread_v`` is the largest difference among like arms in V (None when an arm is open or shorted);
    ``against_spread`` its judgement against ALIKE_V.
    """

    outcome: Outcome
    chances: tuple[tuple[Outcome, float], ...]
    arms: tuple[str, ...]
    means: str
    spread_v: float | None
    against_spread: Judged | None


def judge_bridge(
    forward_v: Mapping[str, float | None],
    meter: Accuracy,
    reverse_v: Mapping[str, float | None] | None = None,
) -> BridgeJudgement:
    """Judge the arms measured. Keys are of ARMS; values in V (0 to 10), None for an open line.

    Red on N, black on U conducts, and so does red on U, black on P; ``forward_v`` holds those directions, ``reverse_v``
    the others, where a good arm shows an open line. Fewer than six arms may be given, but at least two of one rail.
    Raises UnknownName, OutOfRange, or Inconsistent for too few arms.
    """
    reverse = reverse_v or {}
    for table in (forward_v, reverse):
        for arm, value in table.items():
            if arm not in ARMS:
                raise UnknownName("bridge arm", arm, ARMS)
            if value is not None:
                within(f"diode reading {arm}", value, 0, 10, "V")
    rails = {rail: [a for a in ARMS if a.startswith(rail) and a in forward_v] for rail in "pn"}
    if max(len(arms) for arms in rails.values()) < 2:
        raise Inconsistent("At least two arms of one rail are needed to compare them.")
    shorted = tuple(
        a for a in ARMS if _at_most(forward_v.get(a), SHORT_BELOW_V) or _at_most(reverse.get(a), SHORT_BELOW_V)
    )
    if shorted:
        return _certain("shorted", shorted)
    opened = tuple(a for a in ARMS if a in forward_v and forward_v[a] is None)
    if opened:
        return _certain("open", opened)
    leaky = tuple(a for a in ARMS if reverse.get(a) is not None)
    if leaky:
        return _certain("leaky", leaky)
    return _compared({a: v for a, v in forward_v.items() if v is not None}, rails, meter)


def _at_most(value: float | None, limit: float) -> bool:
    return value is not None and value < limit


def _certain(outcome: Outcome, arms: tuple[str, ...]) -> BridgeJudgement:
    chances = tuple((o, 1.0 if o == outcome else 0.0) for o in OUTCOMES)
    return BridgeJudgement(outcome, chances, arms, MEANS[outcome], None, None)


def _compared(values: Mapping[str, float], rails: Mapping[str, list[str]], meter: Accuracy) -> BridgeJudgement:
    """Spread within each rail, and every arm within the band of a diode."""
    groups = [arms for arms in rails.values() if len(arms) > 1]
    widest = max(groups, key=lambda arms: max(values[a] for a in arms) - min(values[a] for a in arms))
    spread = max(values[a] for a in widest) - min(values[a] for a in widest)
    width = combined([meter.expanded(spread), meter.offset])  # one meter, one range: its percentage is common
    against = judged(spread, width, None, ALIKE_V)
    band = [judged(v, meter.expanded(v), FORWARD_LOW_V, FORWARD_HIGH_V).chance_inside for v in values.values()]
    ok = (1 - against.chance_above) * min(band)
    middle = sorted(values[a] for a in widest)[(len(widest) - 1) // 2]
    odd = max(widest, key=lambda a: abs(values[a] - middle))
    outside = tuple(a for a, v in values.items() if not FORWARD_LOW_V <= v <= FORWARD_HIGH_V)
    outcome: Outcome = "ok" if ok >= 0.5 else "uneven"
    chances: tuple[tuple[Outcome, float], ...] = tuple((o, {"ok": ok, "uneven": 1 - ok}.get(o, 0.0)) for o in OUTCOMES)
    arms = () if outcome == "ok" else (outside or (odd,))
    return BridgeJudgement(outcome, chances, arms, MEANS[outcome], spread, against)
