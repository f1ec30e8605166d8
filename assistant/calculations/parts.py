"""Coils, contacts and wires by ohms, and what runs on a signal line."""

from __future__ import annotations

import math
from collections.abc import Mapping

from assistant.calculations.errors import Inconsistent, within
from assistant.calculations.found import Found, Limit, certain, sided
from assistant.calculations.uncertainty import Metered, judged, propagated

#: A coil this many times its value is open, under this share of it shorted. A coil warms in use and copper rises 0.39
#: percent a kelvin, so the upper side is left wide.
OPEN_COIL_TIMES, SHORTED_COIL_SHARE = Limit(3.0), Limit(0.4)
#: What a closed contact, fuse or wire shows at most.
CLOSED_OHM = Limit(2.0)
#: A line under this carries nothing. Between it and its lowest voltage a unit of unknown make may be in order: lines
#: of 2.5 and 5 V exist beside those of 12 to 56 V.
NOTHING_V = Limit(0.5)
#: Least voltage of a signal source of unknown make.
SOURCE_LOW_V = Limit(2.0, general=True)
#: A pulsing line moves by this share of its highest voltage, and by this much at least.
SWING_SHARE, SWING_V = Limit(0.15), Limit(0.3)

MOST_OHM = 1e9


def judge_coil(
    resistance: Metered,
    nominal_ohm: float | None = None,
    tolerance_percent: float = 10.0,
    low_ohm: float | None = None,
    high_ohm: float | None = None,
) -> Found:
    """A coil (ohm, may be open) against its value, or without one against a wide band: ok, open or shorted.

    Values: low, high (ohm). Raises Inconsistent without a value or a band.
    """
    outcomes = ("ok", "open", "shorted")
    if nominal_ohm is not None:
        share = within("coil tolerance", tolerance_percent, 0.1, 50, "%") / 100
        low_ohm = nominal_ohm * (1 - max(share, 1 - 2 * SHORTED_COIL_SHARE))
        high_ohm = nominal_ohm * OPEN_COIL_TIMES
    if low_ohm is None or high_ohm is None:
        raise Inconsistent("A coil is judged by its own resistance, or by a lowest and a highest one.")
    values = {"low": float(low_ohm), "high": float(high_ohm)}
    if resistance.open:
        return Found(certain("open", outcomes), ("ok",), values=values)
    within("coil resistance", resistance.value, 0, MOST_OHM, "ohm")
    against = judged(resistance.value, resistance.expanded, low_ohm, high_ohm)
    return Found(sided(against, ("shorted", "ok", "open")), ("ok",), values=values, against=against)


def judge_continuity(resistances: Mapping[str, Metered], high_ohm: float = CLOSED_OHM) -> Found:
    """Wires, contacts or fuses end to end by place (ohm, may be open): closed, poor or open; of several the worst.

    Value: resistance (ohm, the worst). Raises Inconsistent without any.
    """
    outcomes = ("closed", "poor", "open")
    if not resistances:
        raise Inconsistent("At least one resistance is needed.")
    opened = tuple(place for place, reading in resistances.items() if reading.open)
    if opened:
        return Found(certain("open", outcomes), ("closed",), values={"resistance": None}, places=opened)
    for place, reading in resistances.items():
        within(f"resistance {place}".strip(), reading.value, 0, MOST_OHM, "ohm")
    worst = max(resistances, key=lambda place: resistances[place].value)
    reading = resistances[worst]
    against = judged(reading.value, reading.expanded, None, high_ohm)
    chances = {**sided(against, ("closed", "closed", "poor")), "open": 0.0}
    return Found(chances, ("closed",), values={"resistance": reading.value}, against=against, places=(worst,))


def judge_signal_source(voltage: Metered, low_v: float | None = None) -> Found:
    """The voltage that feeds a signal line, by its size: ok, low, or unknown-line.

    ``low_v`` is the unit's own lowest voltage. Without it anything of 2 V or more is right, and what is less but there
    is "unknown-line": only the maker's figure can tell. Value: size (V).
    Takes ``voltage`` -1000 to 1000, ``low_v`` 0.1 to 1000.
    """
    size = abs(within("signal voltage", voltage.value, -1000, 1000, "V"))
    least = SOURCE_LOW_V if low_v is None else within("lowest signal voltage", low_v, 0.1, 1000, "V")
    against = judged(size, voltage.expanded, least, None)
    chances = {"ok": against.chance_inside, "low": against.chance_below, "unknown-line": 0.0}
    if low_v is None:
        nothing = judged(size, voltage.expanded, NOTHING_V, None).chance_below
        chances |= {"low": nothing, "unknown-line": against.chance_below - nothing}
    return Found(chances, ("ok",), ("unknown-line",), values={"size": size}, against=against)


def judge_pulsing(
    low: Metered,
    high: Metered,
    behaviour: str | None = None,
    swing_v: float | None = None,
    present_v: float = NOTHING_V,
) -> Found:
    """A signal line by the ends of its jumping display (V by size): pulsing, steady or absent.

    With one number both ends are the same and ``behaviour`` (jumping, steady, none) tells what the display does.
    ``swing_v``: what the line must move by; without it 15 % of its height, 0.3 V at least. Values: swing_found,
    wanted (V).
    """
    ends = sorted((abs(low.value), abs(high.value)))
    for end in ends:
        within("signal voltage", end, 0, 1000, "V")
    # One number written in two units is one number.
    top, swing = ends[1], 0.0 if math.isclose(*ends, rel_tol=1e-9) else ends[1] - ends[0]
    wanted = max(SWING_V, SWING_SHARE * top) if swing_v is None else within("swing", swing_v, 0.01, 1000, "V")
    within("least voltage of a live line", present_v, 0.01, 100, "V")
    gone = judged(top, high.expanded, present_v, None).chance_below
    moves = 0.0
    if swing > 0:
        moves = judged(swing, propagated(lambda a, b: abs(b - a), (low, high)), wanted, None).chance_inside
    elif behaviour == "jumping":
        moves, gone = 1.0, 0.0
    if behaviour == "none":
        gone = 1.0
    chances = {"pulsing": moves, "steady": (1 - moves) * (1 - gone), "absent": (1 - moves) * gone}
    return Found(chances, ("pulsing",), values={"swing_found": swing, "wanted": float(wanted)})
