"""Parts and their supply: a rail pulled down by what hangs on it, a part that gets volts and does not work, a breaker.

Volts by their size (the polarity is not judged), amperes.
"""

from __future__ import annotations

from assistant.calculations.errors import UnknownName, within
from assistant.calculations.found import Found, Limit, certain
from assistant.calculations.uncertainty import Metered, judged

#: Least voltage of a five-volt rail.
RAIL_LOW_V = Limit(4.6)
YES_NO = ("yes", "no")
#: What a breaker may hold for minutes beyond its rating without being at fault.
BREAKER_KINDS = ("plain", "ground-fault", "unknown")


def _size(name: str, reading: Metered) -> Metered:
    value = abs(within(name, reading.value, -2000, 2000, "V"))
    return Metered(value, reading.accuracy, reading.meter, reading.unsteady)


def _rail(low_v: float) -> None:
    within("least voltage of the rail", low_v, 0.1, 1000, "V")


def judge_pull_down(plugged: Metered, unplugged: Metered, normal_low_v: float = RAIL_LOW_V) -> Found:
    """A supply with a part plugged in and unplugged: never-low, recovers (the part pulls it down) or stays-low.

    Takes ``plugged`` and ``unplugged`` -2000 to 2000, ``normal_low_v`` 0.1 to 1000.
    """
    _rail(normal_low_v)
    first, second = _size("voltage plugged", plugged), _size("voltage unplugged", unplugged)
    with_part = judged(first.value, first.expanded, normal_low_v, None)
    without = judged(second.value, second.expanded, normal_low_v, None)
    chances = {
        "never-low": with_part.chance_inside,
        "recovers": with_part.chance_below * without.chance_inside,
        "stays-low": with_part.chance_below * without.chance_below,
    }
    decider = with_part if with_part.verdict != "fail" else without
    return Found(chances, ("never-low",), values={"voltage": first.value}, against=decider)


def judge_supplied(voltage: Metered | None, works: str, low_v: float = RAIL_LOW_V) -> Found:
    """A part that works proves its supply; one that does not is failed only when its supply is there.

    works, unsupplied or failed. ``voltage`` may be missing only when it works. Raises UnknownName.
    Takes ``voltage`` -2000 to 2000, ``low_v`` 0.1 to 1000.
    """
    outcomes = ("works", "unsupplied", "failed")
    if works not in YES_NO:
        raise UnknownName("answer", works, YES_NO)
    if works == "yes":
        return Found(certain("works", outcomes), ("works",))
    if voltage is None:
        return Found(certain("unsupplied", outcomes), ("works",))
    _rail(low_v)
    size = _size("supply voltage", voltage)
    against = judged(size.value, size.expanded, low_v, None)
    chances = {"works": 0.0, "unsupplied": against.chance_below, "failed": against.chance_inside}
    return Found(chances, ("works",), values={"voltage": size.value}, against=against)


def judge_breaker(current: Metered | None, tripped: str, rating_a: float, kind: str = "plain") -> Found:
    """A breaker that trips under its rating (0.5 to 1000 A) is weak, above it the load is too much; else it held.

    held, weak, overload, or ground-fault: one that also trips for a leak to ground (``kind`` "ground-fault") may do so
    under its rating, and is not worn for that; of a kind not known, either may be. Raises UnknownName, OutOfRange.
    Takes ``current`` 0 to 10000.
    """
    outcomes = ("held", "weak", "overload", "ground-fault")
    for name, words in ((tripped, YES_NO), (kind, BREAKER_KINDS)):
        if name not in words:
            raise UnknownName("answer", name, words)
    within("breaker rating", rating_a, 0.5, 1000, "A")
    if tripped == "no":
        return Found(certain("held", outcomes), ("held",), ("ground-fault",))
    if current is None or current.open:
        return Found(dict.fromkeys(outcomes, 0.25), ("held",), ("ground-fault",))
    within("current at the trip", current.value, 0, 1e4, "A")
    against = judged(current.value, current.expanded, None, rating_a)
    under = 1 - against.chance_above
    share = {"plain": 1.0, "ground-fault": 0.0, "unknown": 0.5}[kind]
    chances = {
        "held": 0.0,
        "weak": under * share,
        "overload": against.chance_above,
        "ground-fault": under * (1 - share),
    }
    return Found(chances, ("held",), ("ground-fault",), values={"current": current.value}, against=against)
