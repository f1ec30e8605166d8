"""The six arms of a three-phase bridge in diode mode: P and N against U, V and W.

Only with the unit isolated, the bus proved dead and the motor unplugged. Volts on the diode range.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from assistant.calculations.errors import Inconsistent, UnknownName, within
from assistant.calculations.found import Found, Limit, certain, sided
from assistant.calculations.sampling import judged_by_sampling
from assistant.calculations.uncertainty import Metered
from assistant.calculations.values import spread

ARMS = ("p-u", "p-v", "p-w", "n-u", "n-v", "n-w")
#: Like arms are alike within this; an arm under that is shorted.
ALIKE_V, SHORT_BELOW_V = Limit(0.06), Limit(0.1)
#: What one silicon diode drops. Beyond it sound arms may lie too: two diodes in series (a boost stage behind the
#: bridge), or transistors of a wide-gap material, whose body diode drops more or reads open on many meters.
SILICON_V = (0.3, 0.75)
BRIDGE_SOURCE = (
    "like arms within 0.06 V of each other, under 0.1 V shorted; 0.3 to 0.75 V is one silicon diode, more may be two "
    "in series or a wide-gap part: common practice, no source (two drive manuals ask for like readings only)"
)

OUTCOMES = ("ok", "shorted", "open", "all-open", "uneven", "leaky", "low")
#: Those that settle nothing.
UNSETTLED = ("all-open", "low")
MEANS: dict[str, str] = {
    "ok": "The six diodes are alike; a switch that does not open or a dead gate drive can still hide behind them.",
    "shorted": "The arm conducts both ways: the power module is shorted there.",
    "open": "The arm does not conduct: a broken bond or a trace is open there.",
    "uneven": "The arm stands apart from its neighbours: damage begins there, or the probe did not touch well.",
    "all-open": "No arm conducts: wide-gap transistors read so on many meters, or a probe or its place is wrong.",
    "low": "The arms are alike but lower than a diode: something else conducts beside them, so unplug and try again.",
    "leaky": "The arm passes current backwards: leakage, or a bus capacitor still charging through it.",
}


def judge_bridge(
    forward: Mapping[str, Metered],
    reverse: Mapping[str, Metered] | None = None,
    spread_v: float = ALIKE_V,
    short_below_v: float = SHORT_BELOW_V,
) -> Found:
    """Judge the arms measured. Keys are of ARMS; volts 0 to 10, or an open line.

    Red on N, black on U conducts, and so does red on U, black on P; ``forward`` holds those directions, ``reverse``
    the others, where a good arm shows an open line. Fewer than six arms may be given, but at least two of one rail.
    Values: spread (V, the widest within a rail), means, parts (what the readings look like). Raises UnknownName,
    OutOfRange, or Inconsistent for too few arms.
    """
    for table in (forward, reverse or {}):
        for arm in table:
            if arm not in ARMS:
                raise UnknownName("bridge arm", arm, ARMS)
    rails = {rail: [a for a in ARMS if a.startswith(rail) and a in forward] for rail in "pn"}
    return judge_arms(forward, [arms for arms in rails.values() if arms], reverse, spread_v, short_below_v)


def judge_arms(
    forward: Mapping[str, Metered],
    rows: Sequence[Sequence[str]],
    reverse: Mapping[str, Metered] | None = None,
    spread_v: float = ALIKE_V,
    short_below_v: float = SHORT_BELOW_V,
) -> Found:
    """The same for arms of any names: ``rows`` are those that are alike (one rail, or all four of a single phase)."""
    backward = reverse or {}
    within("most that like arms may differ", spread_v, 0.001, 5, "V")
    within("limit of a shorted arm", short_below_v, 0.001, 5, "V")
    for table in (forward, backward):
        for arm, reading in table.items():
            if not reading.open:
                within(f"diode reading {arm}", reading.value, 0, 10, "V")
    shorted = tuple(
        arm
        for arm in dict.fromkeys((*forward, *backward))
        if any(arm in table and table[arm].value < short_below_v for table in (forward, backward))
    )
    if shorted:
        return _certain("shorted", shorted)
    if max((len(row) for row in rows), default=0) < 2:
        raise Inconsistent("At least two arms of one rail are needed to compare them.")
    opened = tuple(arm for arm, reading in forward.items() if reading.open)
    if opened:
        return _certain("all-open" if len(opened) == len(forward) else "open", opened)
    leaky = tuple(arm for arm, reading in backward.items() if not reading.open)
    if leaky:
        return _certain("leaky", leaky)
    return _compared(forward, rows, spread_v)


def _certain(outcome: str, arms: tuple[str, ...]) -> Found:
    values: dict[str, float | str | None] = {"spread": None, "means": MEANS[outcome], "parts": "none"}
    return Found(certain(outcome, OUTCOMES), ("ok",), UNSETTLED, values, places=arms)


def _compared(forward: Mapping[str, Metered], rows: Sequence[Sequence[str]], spread_v: float) -> Found:
    """The widest spread within a row; arms that are alike but under one diode are told apart."""
    widest = max((row for row in rows if len(row) > 1), key=lambda row: spread(*(forward[arm].value for arm in row)))
    readings = [forward[arm] for arm in widest]
    against = judged_by_sampling(spread, readings, None, spread_v)
    values = [reading.value for reading in forward.values()]
    alike = sided(against, ("alike", "alike", "uneven"))
    low = min(values) < SILICON_V[0]
    chances = dict.fromkeys(OUTCOMES, 0.0) | {"uneven": alike["uneven"], "low" if low else "ok": alike["alike"]}
    outcome = "uneven" if alike["uneven"] > alike["alike"] else "low" if low else "ok"
    middle = sorted(reading.value for reading in readings)[(len(readings) - 1) // 2]
    odd = max(widest, key=lambda arm: abs(forward[arm].value - middle))
    told: dict[str, float | str | None] = {
        "spread": spread(*(reading.value for reading in readings)),
        "means": MEANS[outcome],
        "parts": "one diode each" if max(values) <= SILICON_V[1] else "two diodes in series, or wide-gap parts",
    }
    places = (odd,) if outcome == "uneven" else ()
    return Found(chances, ("ok",), UNSETTLED, told, against, places)
