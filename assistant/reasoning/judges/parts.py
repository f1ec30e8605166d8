"""Judges of parts by meter: diode bridge, capacitor, coil, continuity, and the pulsing signal line."""

from __future__ import annotations

from assistant.calculations.uncertainty import GUM, combined, judged
from assistant.reasoning.judgement import Judgement
from assistant.reasoning.judges.case import Case, sum_of
from assistant.reasoning.judges.limits import against, settling
from assistant.reasoning.judges.registry import register
from assistant.reasoning.judges.values import Known, Measured, plain

#: A capacitor under this share of its printed value is open. Common practice, no source.
OPEN_CAPACITOR_SHARE = 0.05
#: A coil this many times its value is open, under this share of it shorted. Common practice, no source.
OPEN_COIL_TIMES, SHORTED_COIL_SHARE = 3.0, 0.4


@register(
    "diode-bridge",
    inputs={"drops": "readings"},
    may={"lower": "readings"},
    limits={"lowest_v": "same", "highest_v": "same", "shorted_below_v": "same", "spread_v": "same"},
    one_of=(("shorted_below_v",), ("spread_v",)),
    outcomes=("symmetric", "asymmetric", "shorted", "open"),
)
def diode_bridge(case: Case) -> Judgement:
    """Like arms of a bridge in diode mode: none shorted, none open, all alike and within the band of a diode.

    ``drops`` is one row (or the upper one), ``lower`` the other; arms are compared within their row.
    """
    rows = [row for row in (case.readings("drops"), case.readings("lower")) if row]
    drops = tuple(drop for row in rows for drop in row)
    if len(drops) < 2 or any(drop.value is None and not drop.open for drop in drops):
        return case.missing_reading("arms")
    quantity = drops[0].quantity
    least, most, short, spread = (
        case.limit(name, quantity) for name in ("lowest_v", "highest_v", "shorted_below_v", "spread_v")
    )
    if short is None or spread is None:
        return case.missing_limit("the diode readings")
    shorted = [drop for drop in drops if drop.value is not None and drop.number < short.value]
    if shorted:
        return case.judged(
            {"shorted": 1.0}, f"{_at(shorted[0])} reads {shorted[0].spoken()}: shorted.", limits=(short,)
        )
    opened = [drop for drop in drops if drop.open]
    if opened:
        return case.judged({"open": 1.0}, f"{_at(opened[0])} does not conduct: open.")
    return _alike(case, rows, (least, most, spread))


def _at(drop: Measured) -> str:
    return drop.place[:1].upper() + drop.place[1:] if drop.place else "One arm"


def _alike(case: Case, rows: list[tuple[Measured, ...]], limits: tuple[Known | None, Known | None, Known]) -> Judgement:
    least, most, spread = limits
    drops = tuple(drop for row in rows for drop in row)
    row = max(rows, key=lambda row: max(d.number for d in row) - min(d.number for d in row))
    values = [drop.number for drop in row]
    value = max(values) - min(values)
    # One meter on one range reads all arms: its percentage is common to them, its offset is not.
    offset = drops[0].accuracy.offset
    result = judged(value, combined([offset, offset]), None, spread.value)
    inside = 1.0
    if least is not None and most is not None:
        inside = min(judged(d.number, d.expanded, least.value, most.value).chance_inside for d in drops)
    alike = (1 - result.chance_above) * inside
    likely = "symmetric" if alike >= 0.5 else "asymmetric"
    ends = f"{plain(min(values))} to {plain(max(values))} volts"
    says = f"The arms read {ends}, {plain(spread.value)} apart is allowed: {likely}."
    working = sum_of(
        "largest - smallest ≤ spread, each within the band of a diode",
        ", ".join(f"{drop.place} {drop.spoken()}" for drop in drops),
        f"{plain(value)} V apart, {likely}",
        f"{spread.source}; {GUM}",
    )
    chances = {"symmetric": alike, "asymmetric": 1 - alike}
    return case.judged(chances, says, [working], settling(result, drops[0].quantity), limits)


@register(
    "capacitor",
    inputs={"capacitance": "reading"},
    limits={"nominal": "same", "tolerance_percent": "percent"},
    one_of=(("nominal",), ("tolerance_percent",)),
    outcomes=("ok", "low", "open"),
)
def capacitor(case: Case) -> Judgement:
    """A capacitance against the printed one; more than printed is no fault."""
    reading = case.reading("capacitance")
    if reading is None or (reading.value is None and not reading.open):
        return case.missing_reading()
    nominal, tolerance = case.limit("nominal", reading.quantity), case.limit("tolerance_percent", "percent")
    if nominal is None or tolerance is None:
        return case.missing_limit("the capacitor")
    if reading.open or reading.number < OPEN_CAPACITOR_SHARE * nominal.value:
        return case.judged({"open": 1.0}, f"{reading.spoken()} where {nominal.spoken()} are printed: open.")
    low = _least(nominal, tolerance)
    return against(case, reading, low, None, ("low", "ok", "ok"), "C ≥ nominal · (1 - tolerance)")


def _least(nominal: Known, tolerance: Known) -> Known:
    source = f"{nominal.spoken()} ({nominal.source}) less {plain(tolerance.value)} percent ({tolerance.source})"
    general = nominal.general or tolerance.general
    return Known(nominal.value * (1 - tolerance.value / 100), nominal.quantity, source, general)


@register(
    "coil",
    inputs={"resistance": "reading"},
    may={},
    limits={"nominal": "same", "tolerance_percent": "percent", "low": "same", "high": "same"},
    one_of=(("nominal", "low"),),
    outcomes=("ok", "open", "shorted"),
)
def coil(case: Case) -> Judgement:
    """A coil against its value or band: far above is open, below is shorted turns."""
    reading = case.reading("resistance")
    if reading is None or (reading.value is None and not reading.open):
        return case.missing_reading()
    if reading.open:
        return case.judged({"open": 1.0}, "An open line: the coil is open.")
    nominal, tolerance = case.limit("nominal", reading.quantity), case.limit("tolerance_percent", "percent")
    low, high = case.limit("low", reading.quantity), case.limit("high", reading.quantity)
    if nominal is not None:
        # A coil warms in use and copper rises 0.39 percent a kelvin, so the upper side is left wide.
        share = tolerance.value / 100 if tolerance else 0.1
        low = Known(
            nominal.value * (1 - max(share, 1 - 2 * SHORTED_COIL_SHARE)),
            nominal.quantity,
            nominal.source,
            nominal.general,
        )
        high = Known(nominal.value * OPEN_COIL_TIMES, nominal.quantity, nominal.source, nominal.general)
    if low is None or high is None:
        return case.missing_limit("the coil's resistance")
    return against(case, reading, low, high, ("shorted", "ok", "open"))


@register(
    "continuity",
    inputs={"resistance": "readings"},
    limits={"high": "same"},
    one_of=(("high",),),
    outcomes=("closed", "open", "poor"),
    folds={"poor": "open"},
)
def continuity(case: Case) -> Judgement:
    """A wire, contact or fuse end to end; of several, the worst."""
    given = case.readings("resistance")
    if not given:
        return case.missing_reading()
    opened = [reading for reading in given if reading.open]
    if opened:
        place = f" at {opened[0].place}" if opened[0].place else ""
        return case.judged({"open": 1.0}, f"An open line{place}: no continuity.")
    if any(reading.value is None for reading in given):
        return case.missing_reading()
    high = case.limit("high", given[0].quantity)
    if high is None:
        return case.missing_limit("a closed contact")
    worst = max(given, key=lambda reading: reading.number)
    return against(case, worst, None, high, ("closed", "closed", "poor"), "resistance ≤ high")


@register(
    "pulsing",
    inputs={"voltage": "reading"},
    may={"behaviour": "choice"},
    limits={"swing": "same", "present": "same"},
    one_of=(("swing",), ("present",)),
    outcomes=("pulsing", "steady", "absent"),
)
def pulsing(case: Case) -> Judgement:
    """The signal line by the swing of its voltage, or by how the display behaves when one number was said."""
    reading, behaviour = case.reading("voltage"), case.choice("behaviour")
    if reading is None:
        return case.missing_reading("voltage")
    swing, present = case.limit("swing", reading.quantity), case.limit("present", reading.quantity)
    if swing is None or present is None:
        return case.missing_limit("the signal line")
    ends = reading.span or (reading.value, reading.value)
    low, high = (abs(end) if end is not None else 0.0 for end in ends)
    low, high = min(low, high), max(low, high)
    width = reading.accuracy.expanded(high)
    gone = judged(high, width, present.value).chance_below
    moves = judged(high - low, combined([width, width]), swing.value).chance_inside if reading.span else 0.0
    if reading.span is None and behaviour == "jumping":
        moves, gone = 1.0, 0.0
    if behaviour == "none" or (reading.value is None and reading.span is None):
        gone = 1.0
    chances = {"absent": gone * (1 - moves), "pulsing": moves, "steady": (1 - moves) * (1 - gone)}
    likely = max(chances, key=lambda key: chances[key])
    shown = f"{plain(low)} to {plain(high)} volts" if reading.span else f"{plain(high)} volts"
    meaning = {"pulsing": "messages are passing", "steady": "nobody is talking", "absent": "nothing is on the line"}
    working = sum_of(
        "swing = high - low",
        f"{plain(high)} - {plain(low)} V",
        f"{plain(high - low)} V, needs {plain(swing.value)}",
        f"{swing.source}; {present.source}; {GUM}",
    )
    says = f"{shown}, {likely}: {meaning[likely]}."
    return case.judged(chances, says, [working], "Watch the display for ten seconds.", (swing, present))
