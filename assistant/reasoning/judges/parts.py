"""Judges of parts by meter: diode bridge, capacitor, coil, continuity, and the signal line."""

from __future__ import annotations

from assistant.calculations import bridge, parts
from assistant.calculations.capacitors import BUS_TOLERANCE_PERCENT, TOLERANCE_PERCENT
from assistant.calculations.sampling import SAMPLING_SOURCE
from assistant.calculations.uncertainty import GUM, Metered
from assistant.language.meaning import Quantity
from assistant.messages.catalogue import plain
from assistant.messages.message import Message, Why, message
from assistant.reasoning.judgement import Judgement
from assistant.reasoning.judges.case import Case, Taken, sum_of, told
from assistant.reasoning.judges.limits import against, beside, number
from assistant.reasoning.judges.registry import register
from assistant.reasoning.judges.values import Known, Measured

_BRIDGE = {
    "ok": "symmetric",
    "uneven": "asymmetric",
    "leaky": "shorted",
    "all-open": "unclear",
    "low": "unclear",
}


@register(
    "diode-bridge",
    inputs={"drops": "readings"},
    may={"lower": "readings"},
    limits={"shorted_below_v": "same", "spread_v": "same"},
    outcomes=("symmetric", "asymmetric", "shorted", "open", "unclear"),
)
def diode_bridge(case: Case) -> Judgement:
    """Like arms of a bridge in diode mode: none shorted, none open alone, all alike.

    ``drops`` is one row (or the upper one), ``lower`` the other; arms are compared within their row. "unclear": no arm
    conducts at all, or all are alike but under one diode; wide-gap parts and parallel paths read so.
    """
    rows = {row: case.readings(row) for row in ("drops", "lower")}
    arms = {f"{row} {drop.place_id}": drop for row, drops in rows.items() for drop in drops}
    if not arms or any(not drop.there for drop in arms.values()):
        return case.missing_reading("arms")
    quantity: Quantity = next(iter(arms.values())).quantity
    short = case.limit_or("shorted_below_v", quantity, bridge.SHORT_BELOW_V)
    only = next(iter(arms.values()))
    if len(arms) < 2 and (only.open or only.number >= short.value):  # a short is one alone, the rest is compared
        return case.missing_reading("arms")
    spread = case.limit_or("spread_v", quantity, bridge.ALIKE_V)
    like = [[name for name in arms if name.startswith(f"{row} ")] for row in rows]
    found = bridge.judge_arms(
        {name: drop.metered for name, drop in arms.items()},
        [row for row in like if row],
        spread_v=spread.bound,
        short_below_v=short.bound,
    )
    working = sum_of(
        "largest - smallest of like arms ≤ spread; none under the least of a diode",
        ", ".join(f"{drop.place} {told(drop)}" for drop in arms.values()),
        f"{found.outcome}, spread allowed {plain(spread.value)} V, shorted below {plain(short.value)} V",
        f"{bridge.BRIDGE_SOURCE}; {spread.source}; {SAMPLING_SOURCE}; {GUM}",
    )
    odd = arms[found.places[0]] if found.places else None
    says = _bridge_says(found.outcome, str(found.values["parts"]), list(arms.values()), odd, spread)
    return case.found(found, says, [working], _BRIDGE, quantity=quantity)


def _bridge_says(outcome: str, parts_like: str, drops: list[Measured], odd: Measured | None, spread: Known) -> Message:
    if odd is not None:
        at = odd.at or message("one-arm")
        if outcome == "shorted":
            return message("arm-shorted", place=at, reading=odd.amount())
        if outcome == "open":
            return message("arm-open", place=at)
    if outcome == "all-open":
        return message("no-arm-conducts")
    values = [drop.number for drop in drops]
    ends = message("arms-read", low=drops[0].amount(min(values)), high=drops[0].amount(max(values)))
    if outcome == "low":
        return message("arms-under-a-diode", ends=ends)
    if outcome == "ok" and parts_like != "one diode each":
        return message("arms-in-series", ends=ends)
    return message("arms-apart", ends=ends, spread=spread.amount(), outcome=_BRIDGE[outcome])


@register(
    "capacitor",
    inputs={"capacitance": "reading"},
    limits={"nominal": "same", "tolerance_percent": "percent"},
    one_of=(("nominal",),),
    options=("kind",),
    outcomes=("ok", "low", "high", "open"),
)
def capacitor(case: Case) -> Judgement:
    """A capacitance against the printed one. Option ``kind``: run, or bus (then too much settles nothing)."""
    reading = case.reading("capacitance")
    if reading is None or not reading.there:
        return case.missing_reading()
    nominal = case.limit("nominal", reading.quantity)
    if nominal is None:
        return case.missing_limit("capacitor")
    kind = str(case.option("kind", "run"))
    usual = BUS_TOLERANCE_PERCENT if kind == "bus" else TOLERANCE_PERCENT
    tolerance = case.limit_or("tolerance_percent", "percent", usual)
    values: dict[str, Taken] = {"measured": reading, "rated": nominal, "tolerance": tolerance, "kind": kind}
    result = case.run("capacitor", values)
    found = result.found
    low, high = (
        Known(number(result.answer(side)), nominal.quantity, nominal.source, nominal.general)
        for side in ("low", "high")
    )
    if found is None or found.against is None:
        says = message("capacitor-open", reading=reading.amount(), printed=nominal.amount(reading.shown))
    elif found.outcome == "high" and kind == "bus":
        says = message("capacitor-more", reading=reading.amount())
    else:
        where = beside(found.against, low, high, reading.shown)
        says = message("judged-reading", reading=reading.amount(), beside=where)
    return case.ran(result, says, limits=(nominal,), quantity=reading.quantity)


@register(
    "coil",
    inputs={"resistance": "reading"},
    limits={"nominal": "same", "tolerance_percent": "percent", "low": "same", "high": "same"},
    one_of=(("nominal", "low"),),
    outcomes=("ok", "open", "shorted"),
)
def coil(case: Case) -> Judgement:
    """A coil against its value or band: far above is open, below is shorted turns."""
    reading = case.reading("resistance")
    if reading is None or not reading.there:
        return case.missing_reading()
    if reading.open:
        return case.judged({"open": 1.0}, message("coil-open"))
    nominal = case.limit("nominal", reading.quantity)
    low, high = case.limit("low", reading.quantity), case.limit("high", reading.quantity)
    if nominal is None and (low is None or high is None):
        return case.missing_limit("coil")
    values: dict[str, Taken] = {"resistance": reading, "nominal": nominal}
    values |= {"tolerance": case.limit("tolerance_percent", "percent")} if nominal else {"low": low, "high": high}
    result = case.run("coil", values)
    found, source = result.found, nominal or low
    if found is None or found.against is None or source is None:
        raise ValueError("a coil was not judged")
    least, most = (Known(number(found.values[s]), reading.quantity, source.source, False) for s in ("low", "high"))
    where = beside(found.against, least, most, reading.shown)
    says = message("judged-reading", reading=reading.amount(), beside=where)
    return case.ran(result, says, limits=(source,), quantity=reading.quantity)


@register(
    "continuity",
    inputs={"resistance": "readings"},
    limits={"high": "same"},
    outcomes=("closed", "open", "poor"),
    folds={"poor": "open"},
)
def continuity(case: Case) -> Judgement:
    """A wire, contact or fuse end to end; of several, the worst."""
    given = case.readings("resistance")
    if not given or any(not reading.there for reading in given):
        return case.missing_reading()
    high = case.limit_or("high", given[0].quantity, parts.CLOSED_OHM)
    by_place = {reading.place_id: reading for reading in given}
    found = parts.judge_continuity({place: reading.metered for place, reading in by_place.items()}, high.bound)
    worst = by_place[found.places[0]]
    if found.against is None:
        says = message("no-continuity-at", place=worst.at) if worst.at else message("no-continuity")
        return case.found(found, says)
    return against(case, worst, None, high, found)


@register(
    "signal-source",
    inputs={"voltage": "reading"},
    limits={"low": "same"},
    outcomes=("ok", "low", "unknown-line"),
    folds={"unknown-line": "low"},
)
def signal_source(case: Case) -> Judgement:
    """The voltage that feeds the signal line: the unit's own least, else only what is nothing is condemned."""
    reading = case.reading("voltage")
    if reading is None or not reading.there:
        return case.missing_reading("voltage")
    low = case.limit("low", reading.quantity)
    result = case.run("signal-source", {"voltage": reading, "low": low})
    least = low or Known(float(parts.SOURCE_LOW_V), reading.quantity, parts.SOURCE_LOW_V.source, True)
    outcome = str(result.answer("outcome"))
    says = message("signal-source", reading=reading.amount(), least=least.amount(reading.shown), outcome=outcome)
    return case.ran(result, says, limits=(least,), quantity=reading.quantity)


@register(
    "pulsing",
    inputs={"voltage": "reading"},
    may={"behaviour": "choice"},
    limits={"swing": "same", "present": "same"},
    outcomes=("pulsing", "steady", "absent"),
)
def pulsing(case: Case) -> Judgement:
    """The signal line by the swing of its voltage, or by how the display behaves when one number was said."""
    reading, behaviour = case.reading("voltage"), case.choice("behaviour")
    if reading is None:
        return case.missing_reading("voltage")
    ends = reading.span or (reading.value or 0.0, reading.value or 0.0)
    low, high = (Metered(end, reading.accuracy, reading.meter) for end in ends)
    if reading.value is None and reading.span is None:
        behaviour = "none"
    values: dict[str, Taken] = {"low": low, "high": high, "behaviour": behaviour}
    values |= {name: case.limit(name, reading.quantity) for name in ("swing", "present")}
    result = case.run("signal-pulses", values)
    likely = str(result.answer("outcome"))
    sizes = sorted(abs(end) for end in ends)
    least, most = (reading.amount(size) for size in sizes)
    if reading.span:
        says = message("signal-swings", low=least, high=most, outcome=likely)
    else:
        says = message("signal-reads", reading=most, outcome=likely)
    judgement = case.ran(result, says)
    better: Why = message("watch-the-display") if judgement.verdict == "undecided" else ""
    return judgement.model_copy(update={"better": better})
