"""Three terminal pairs of a motor judged: ok, unbalanced, off-value, open, shorted or grounded."""

from __future__ import annotations

from assistant.calculations.departure import largest_departure_percent
from assistant.calculations.errors import within
from assistant.calculations.found import Found, Limit, certain
from assistant.calculations.sampling import judged_by_sampling
from assistant.calculations.triangle import refuse_what_cannot_be
from assistant.calculations.uncertainty import Metered, combined, judged
from assistant.calculations.windings import MOST_OHM, Metal, at_temperature_ohm

#: A pair this many times its expected value is open; this share of it or less is shorted.
OPEN_TIMES, SHORT_SHARE = 100.0, 0.2
THRESHOLD_SOURCE = "open above 100 times, shorted below a fifth of the expected value: common practice, no source"
#: Largest departure from the mean that a compressor's windings may show through its leads and pins.
IMBALANCE_PERCENT = Limit(
    5.0,
    "common practice, no source (EASA AR100 asks 2 % of random windings, 1 % of form-wound, measured four-wire on the "
    "motor alone)",
)
#: What the windings may be off the maker's value.
VALUE_PERCENT = Limit(10.0)
#: Every pair under this share of the maker's value: turns are shorted together.
ALL_LOW_SHARE = Limit(0.5)

PAIRS = ("u-v", "v-w", "w-u")
OUTCOMES = ("ok", "unbalanced", "off-value", "open", "shorted", "grounded")


def judge_windings(
    u_v: Metered,
    v_w: Metered,
    w_u: Metered,
    *,
    imbalance_limit_percent: float = IMBALANCE_PERCENT,
    lead_ohm: float = 0.0,
    temperature_c: float = 20.0,
    expected_ohm: float | None = None,
    expected_at_c: float = 20.0,
    tolerance_percent: float | None = VALUE_PERCENT,
    to_ground: Metered | None = None,
    ground_limit_ohm: float = 1e6,
    metal: Metal = "copper",
) -> Found:
    """Judge the three pairs (ohm, each may be open) against each other, the profile's value and ground.

    ``to_ground`` is None when not measured; an open line is the best there is. ``expected_ohm`` is the profile's
    terminal-to-terminal value at ``expected_at_c``; the readings are taken at ``temperature_c``. With it, pairs that
    are all under half of it are shorted together; ``tolerance_percent`` (None: not judged) is what their mean may be
    off. A reading no higher than the meter's leads alone counts as shorted.
    The imbalance is judged by sampling: three equal readings are at its kink. ``unfit`` when this meter could not pass
    three equal windings of that value. Values: imbalance (%), mean (ohm, at the profile's temperature), fine_enough
    (ohm, what a meter must be good to). Raises OutOfRange for negative or absurd readings, and Inconsistent for a pair
    larger than the two others together, which no fault can cause.
    Takes ``u_v``, ``v_w`` and ``w_u`` 0 to 1e9, ``imbalance_limit_percent`` 0.1 to 50, ``lead_ohm`` 0 to 10,
    ``temperature_c`` and ``expected_at_c`` -60 to 250, ``expected_ohm`` 1e-4 to 1e6, ``to_ground`` 0 to 1e12,
    ``ground_limit_ohm`` 1 to 1e12.
    """
    within("imbalance limit", imbalance_limit_percent, 0.1, 50, "%")
    within("lead resistance", lead_ohm, 0, 10, "ohm")
    within("ground limit", ground_limit_ohm, 1, 1e12, "ohm")
    readings = (u_v, v_w, w_u)
    for pair, reading in zip(PAIRS, readings, strict=True):
        if not reading.open:
            within(f"winding {pair}", reading.value, 0, 1e9, "ohm")
    expected = None if expected_ohm is None else at_temperature_ohm(expected_ohm, expected_at_c, temperature_c, metal)
    if to_ground is not None and not to_ground.open:
        within("resistance to ground", to_ground.value, 0, 1e12, "ohm")
        if to_ground.value < ground_limit_ohm:
            return _certain("grounded", ("ground",))
    refuse_what_cannot_be(dict(zip(PAIRS, readings, strict=True)), "ohm")
    pairs = tuple(None if r.open else max(0.0, r.value - lead_ohm) for r in readings)
    base = expected if expected is not None else _typical(pairs)
    opened = tuple(n for n, v in zip(PAIRS, pairs, strict=True) if v is None or v > min(MOST_OHM, OPEN_TIMES * base))
    if opened:
        return _certain("open", _open_places(opened))
    solid = [v for v in pairs if v is not None]
    shorted = tuple(n for n, v in zip(PAIRS, solid, strict=True) if v <= max(SHORT_SHARE * base, 1e-3))
    if shorted:
        return _certain("shorted", shorted)
    alone = [Metered(r.value - lead_ohm, r.accuracy, r.meter, r.unsteady) for r in readings]
    ratio = at_temperature_ohm(1.0, temperature_c, expected_at_c, metal)
    return _measured(alone, imbalance_limit_percent, expected, tolerance_percent, ratio)


def _typical(pairs: tuple[float | None, ...]) -> float:
    """The middle of the pairs that show a number (the higher of two), when no profile says what to expect."""
    shown = [v for v in pairs if v is not None]
    return sorted(shown)[len(shown) // 2] if shown else MOST_OHM


def _open_places(opened: tuple[str, ...]) -> tuple[str, ...]:
    """One open arm of a star opens the two pairs that share it: name the arm."""
    if len(opened) == 2:
        shared = set(opened[0].split("-")) & set(opened[1].split("-"))
        return tuple(shared)
    return opened


def _certain(outcome: str, places: tuple[str, ...]) -> Found:
    values = {"imbalance": None, "mean": None}
    return Found(certain(outcome, OUTCOMES), ("ok",), values=values, places=places)


def _imbalance(*pairs: float) -> float:
    """The largest departure from the mean, of pairs that a drawn error may not take below nothing."""
    return largest_departure_percent([max(pair, 1e-6) for pair in pairs])


def _measured(
    pairs: list[Metered],
    limit_percent: float,
    expected: float | None,
    tolerance_percent: float | None,
    to_reference: float,
) -> Found:
    against = judged_by_sampling(_imbalance, pairs, None, limit_percent)
    mean = sum(pair.value for pair in pairs) / 3
    low, off = _against_value(pairs, mean, expected, tolerance_percent)
    uneven = against.chance_above
    rest = 1 - low
    chances = dict.fromkeys(OUTCOMES, 0.0) | {
        "shorted": low,
        "unbalanced": rest * uneven,
        "off-value": rest * (1 - uneven) * off,
        "ok": rest * (1 - uneven) * (1 - off),
    }
    imbalance = _imbalance(*(pair.value for pair in pairs))
    odd = max(range(3), key=lambda i: abs(pairs[i].value - mean))
    likely = max(chances, key=lambda name: chances[name])
    unfit = against.verdict == "undecided" and imbalance <= limit_percent and not _could_pass(pairs, limit_percent)
    return Found(
        chances,
        ("ok",),
        values={"imbalance": imbalance, "mean": mean * to_reference, "fine_enough": _fine_enough(mean, limit_percent)},
        against=against,
        places=() if unfit else {"ok": (), "unbalanced": (PAIRS[odd],)}.get(likely, PAIRS),
        told="ok" if unfit else "",
        unfit=unfit,
        better=_better(pairs, mean, limit_percent) if unfit else "",
    )


def _fine_enough(mean: float, limit_percent: float) -> float:
    """What a meter must be good to, each reading by itself, to pass three equal windings of ``mean`` ohm.

    The largest of three departures from their mean stays with 97.5 % under 1.08 of one reading's 95 % uncertainty.
    """
    return mean * limit_percent / 100 / 1.2


def _could_pass(pairs: list[Metered], limit_percent: float) -> bool:
    """Whether this meter could have passed three windings that are quite the same."""
    mean = sum(pair.value for pair in pairs) / 3
    equal = [Metered(mean, p.accuracy, p.meter, p.unsteady) for p in pairs]
    return judged_by_sampling(_imbalance, equal, None, limit_percent).verdict == "pass"


def _better(pairs: list[Metered], mean: float, limit_percent: float) -> str:
    return (
        f"This meter is good to {max(p.apart for p in pairs):.2g} ohm a reading; windings of {mean:.3g} ohm need one "
        f"good to {_fine_enough(mean, limit_percent):.2g}: take a low-ohm or four-wire meter."
    )


def _against_value(
    pairs: list[Metered], mean: float, expected: float | None, tolerance_percent: float | None
) -> tuple[float, float]:
    """Chances that every pair is under half of its value, and that the mean is off it."""
    if expected is None:
        return 0.0, 0.0
    highest = max(pairs, key=lambda pair: pair.value)
    low = judged(highest.value, highest.expanded, ALL_LOW_SHARE * expected, None).chance_below
    if tolerance_percent is None:
        return low, 0.0
    share = within("winding tolerance", tolerance_percent, 0.1, 50, "%") / 100
    apart = combined([pair.apart for pair in pairs]) / 3
    shared = max((pair.expanded**2 - pair.apart**2) ** 0.5 for pair in pairs)
    against = judged(mean, combined([apart, shared]), expected * (1 - share), expected * (1 + share))
    return low, against.chance_below + against.chance_above
