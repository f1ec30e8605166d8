"""Three terminal pairs of a motor judged: ok, unbalanced, off-value, open, shorted or grounded."""

from __future__ import annotations

from typing import Literal, NamedTuple

from assistant.calculations.departure import largest_departure_percent
from assistant.calculations.errors import within
from assistant.calculations.uncertainty import Accuracy, Judged, combined, judged, propagated
from assistant.calculations.windings import MOST_OHM, Metal, at_temperature_ohm

#: A pair this many times its expected value is open; this share of it or less is shorted.
#: Common practice, no source.
OPEN_TIMES, SHORT_SHARE = 100.0, 0.2
THRESHOLD_SOURCE = "open above 100 times, shorted below a fifth of the expected value: common practice, no source"

PAIRS = ("u-v", "v-w", "w-u")
Outcome = Literal["ok", "unbalanced", "off-value", "open", "shorted", "grounded"]
OUTCOMES: tuple[Outcome, ...] = ("ok", "unbalanced", "off-value", "open", "shorted", "grounded")


class WindingJudgement(NamedTuple):
    """What three terminal pairs and a reading to ground say.

    ``outcome`` likeliest, ``chances`` of every outcome (sum 1). ``places`` are the pairs, or for an open star point
    arm the single terminal ("u"), that the outcome speaks of. ``pairs_ohm`` without the meter's leads, None for an
    open line. ``imbalance_percent`` and ``mean_at_reference_ohm`` (corrected to the profile's temperature) are None
    when a pair is open or shorted; so are their judgements, and ``against_value`` without an expected value.
    """

    outcome: Outcome
    chances: tuple[tuple[Outcome, float], ...]
    places: tuple[str, ...]
    pairs_ohm: tuple[float | None, float | None, float | None]
    imbalance_percent: float | None = None
    mean_at_reference_ohm: float | None = None
    against_imbalance: Judged | None = None
    against_value: Judged | None = None


def judge_windings(
    u_v_ohm: float | None,
    v_w_ohm: float | None,
    w_u_ohm: float | None,
    *,
    meter: Accuracy,
    imbalance_limit_percent: float,
    lead_ohm: float = 0.0,
    temperature_c: float = 20.0,
    expected_ohm: float | None = None,
    expected_at_c: float = 20.0,
    tolerance_percent: float = 10.0,
    to_ground_ohm: float | None = None,
    ground_limit_ohm: float = 1e6,
    metal: Metal = "copper",
) -> WindingJudgement:
    """Judge the three pairs (None: open line) against each other, the profile's value and ground.

    ``to_ground_ohm``: None when not measured or the display shows an open line. ``expected_ohm`` is the
    profile's terminal-to-terminal value at ``expected_at_c``; the readings are taken at ``temperature_c``. A reading
    no higher than the meter's leads alone counts as shorted.
    Uncertainty: ``meter`` at each pair, propagated numerically (GUM 5.1.3 note 2). Raises OutOfRange for negative or
    absurd readings.
    """
    within("imbalance limit", imbalance_limit_percent, 0.1, 50, "%")
    within("winding tolerance", tolerance_percent, 0.1, 50, "%")
    within("lead resistance", lead_ohm, 0, 10, "ohm")
    within("ground limit", ground_limit_ohm, 1, 1e12, "ohm")
    readings = (u_v_ohm, v_w_ohm, w_u_ohm)
    for pair, reading in zip(PAIRS, readings, strict=True):
        if reading is not None:
            within(f"winding {pair}", reading, 0, 1e9, "ohm")
    expected = None if expected_ohm is None else at_temperature_ohm(expected_ohm, expected_at_c, temperature_c, metal)
    pairs = tuple(None if reading is None else max(0.0, reading - lead_ohm) for reading in readings)
    u_v, v_w, w_u = pairs
    three = (u_v, v_w, w_u)
    if to_ground_ohm is not None:
        within("resistance to ground", to_ground_ohm, 0, 1e12, "ohm")
        if to_ground_ohm < ground_limit_ohm:
            return _certain("grounded", ("ground",), three)
    base = expected if expected is not None else _typical(three)
    opened = tuple(n for n, v in zip(PAIRS, three, strict=True) if v is None or v > min(MOST_OHM, OPEN_TIMES * base))
    if opened:
        return _certain("open", _open_places(opened), three)
    solid = [v for v in three if v is not None]
    shorted = tuple(n for n, v in zip(PAIRS, solid, strict=True) if v <= max(SHORT_SHARE * base, 1e-3))
    if shorted:
        return _certain("shorted", shorted, three)
    widths = [meter.expanded(v + lead_ohm) for v in solid]
    return _measured(
        solid, widths, imbalance_limit_percent, expected, tolerance_percent, _ratio(temperature_c, expected_at_c, metal)
    )


def _ratio(from_c: float, to_c: float, metal: Metal) -> float:
    return at_temperature_ohm(1.0, from_c, to_c, metal)


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


def _certain(
    outcome: Outcome, places: tuple[str, ...], pairs: tuple[float | None, float | None, float | None]
) -> WindingJudgement:
    return WindingJudgement(outcome, tuple((o, 1.0 if o == outcome else 0.0) for o in OUTCOMES), places, pairs)


def _measured(
    pairs: list[float],
    widths: list[float],
    limit_percent: float,
    expected: float | None,
    tolerance_percent: float,
    to_reference: float,
) -> WindingJudgement:
    imbalance = largest_departure_percent(pairs)
    width = propagated(lambda *v: largest_departure_percent(v), pairs, widths)
    against_imbalance = judged(imbalance, width, None, limit_percent)
    mean = sum(pairs) / 3
    against_value, off = None, 0.0
    if expected is not None:
        share = tolerance_percent / 100
        against_value = judged(mean, combined(widths) / 3, expected * (1 - share), expected * (1 + share))
        off = against_value.chance_below + against_value.chance_above
    uneven = against_imbalance.chance_above
    shares = {"ok": (1 - uneven) * (1 - off), "unbalanced": uneven, "off-value": (1 - uneven) * off}
    chances = tuple((o, shares.get(o, 0.0)) for o in OUTCOMES)
    outcome = max(chances, key=lambda pair: pair[1])[0]
    odd = max(range(3), key=lambda i: abs(pairs[i] - mean))
    places = {"ok": (), "unbalanced": (PAIRS[odd],)}.get(outcome, PAIRS)
    return WindingJudgement(
        outcome,
        chances,
        places,
        (pairs[0], pairs[1], pairs[2]),
        imbalance,
        mean * to_reference,
        against_imbalance,
        against_value,
    )
