"""Judges of one number against fixed limits: range, at-most, at-least, relative, drop, compare, line-length."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.calculations.uncertainty import GUM, Judged, better_reading, combined, judged, propagated
from assistant.language.meaning import CANONICAL_UNIT, Quantity
from assistant.language.units import from_canonical, say
from assistant.reasoning.judgement import Judgement
from assistant.reasoning.judges.case import Case, sum_of
from assistant.reasoning.judges.registry import register
from assistant.reasoning.judges.values import Known, Measured, plain

Names = tuple[str, str, str]


def shares(result: Judged, names: Names = ("low", "ok", "high")) -> dict[str, float]:
    """The three chances of a judged value under the outcomes' names; two may be the same name."""
    found: dict[str, float] = {}
    chances = (result.chance_below, result.chance_inside, result.chance_above)
    for name, chance in zip(names, chances, strict=True):
        found[name] = found.get(name, 0.0) + chance
    return found


def against(
    case: Case,
    reading: Measured,
    low: Known | None,
    high: Known | None,
    names: Names = ("low", "ok", "high"),
    formula: str = "low ≤ reading ≤ high",
) -> Judgement:
    """A reading against one or two limits."""
    if reading.value is None:
        if reading.open:
            return case.judged({"open": 1.0}, "The meter shows an open line.")
        return case.missing_reading()
    if low is None and high is None:
        return case.missing_limit("its limit")
    result = judged(reading.number, reading.expanded, low.value if low else None, high.value if high else None)
    says = f"{reading.spoken()}{_placed(reading)}{_beside(result, low, high, reading.shown)}"
    working = sum_of(
        formula,
        f"{reading.spoken()} ± {plain(result.expanded)}; {_limits_text(low, high, reading.shown)}",
        _side(result),
        "; ".join(dict.fromkeys([*(limit.source for limit in (low, high) if limit), GUM])),
    )
    return case.judged(shares(result, names), says, [working], settling(result, reading.quantity), (low, high))


def settling(result: Judged, quantity: Quantity) -> str:
    """The reading that would settle an undecided judgement, in the canonical unit; empty when it is decided."""
    unit = "kelvin" if quantity == "temperature" else say(CANONICAL_UNIT[quantity], quantity)
    return better_reading(result, unit)


def _placed(reading: Measured) -> str:
    return f" {reading.place}" if reading.place else ""


def _side(result: Judged) -> str:
    chances = {"below": result.chance_below, "inside": result.chance_inside, "above": result.chance_above}
    likely = max(chances, key=lambda key: chances[key])
    return f"{likely}, {100 * chances[likely]:.0f} percent sure"


def _beside(result: Judged, low: Known | None, high: Known | None, shown: str) -> str:
    unsure = result.verdict == "undecided"
    if low is not None and result.chance_below >= max(result.chance_inside, result.chance_above):
        return f", {'about at' if unsure else 'below'} the lower limit of {low.spoken(shown)}."
    if high is not None and result.chance_above >= result.chance_inside:
        return f", {'about at' if unsure else 'above'} the limit of {high.spoken(shown)}."
    if unsure:
        return f", too near the limit of {_nearest(result, low, high).spoken(shown)} to be sure."
    return f", good; {_limits_text(low, high, shown)}."


def _nearest(result: Judged, low: Known | None, high: Known | None) -> Known:
    wanted = low if high is None or (low is not None and result.chance_below >= result.chance_above) else high
    if wanted is None:
        raise ValueError("a judged value has at least one limit")
    return wanted


def _limits_text(low: Known | None, high: Known | None, shown: str) -> str:
    if low is not None and high is not None:
        return f"limits {low.spoken(shown).split(' ')[0]} to {high.spoken(shown)}"
    if low is not None:
        return f"at least {low.spoken(shown)} is wanted"
    return f"at most {high.spoken(shown)} is allowed" if high is not None else "no limit"


def _one(case: Case) -> tuple[Measured | None, Known | None, Known | None]:
    reading = case.reading("value")
    if reading is None:
        return None, None, None
    return reading, case.limit("low", reading.quantity), case.limit("high", reading.quantity)


@register(
    "range",
    inputs={"value": "reading"},
    limits={"low": "same", "high": "same"},
    one_of=(("low", "high"),),
    outcomes=("low", "ok", "high", "open"),
    folds={"open": "high"},
)
def in_range(case: Case) -> Judgement:
    """A reading between two limits, or on the right side of one."""
    reading, low, high = _one(case)
    return case.missing_reading() if reading is None else against(case, reading, low, high)


@register(
    "at-most",
    inputs={"value": "reading"},
    limits={"high": "same"},
    one_of=(("high",),),
    outcomes=("ok", "high", "open"),
    folds={"open": "high"},
)
def at_most(case: Case) -> Judgement:
    """A reading under one limit."""
    reading, _, high = _one(case)
    return case.missing_reading() if reading is None else against(case, reading, None, high, formula="reading ≤ high")


@register(
    "at-least",
    inputs={"value": "reading"},
    limits={"low": "same"},
    one_of=(("low",),),
    outcomes=("low", "ok", "absent"),
    folds={"absent": "low"},
)
def at_least(case: Case) -> Judgement:
    """A reading above one limit; an open line is more than any limit; under a tenth of it, nothing is there."""
    reading, low, _ = _one(case)
    if reading is None:
        return case.missing_reading()
    if reading.open:
        return case.judged({"ok": 1.0}, "The meter shows an open line, good.")
    if low is not None and reading.value is not None and reading.value < 0.1 * low.value and case.lists("absent"):
        return case.judged({"absent": 1.0}, f"{reading.spoken()}, so nothing is there; {low.spoken()} is wanted.")
    return against(case, reading, low, None, formula="reading ≥ low")


@register(
    "relative",
    inputs={"value": "reading"},
    limits={"nominal": "same", "low_percent": "percent", "high_percent": "percent"},
    one_of=(("nominal",), ("low_percent", "high_percent")),
    outcomes=("low", "ok", "high", "open"),
    folds={"open": "high"},
)
def relative(case: Case) -> Judgement:
    """A reading in percent of what this unit should have."""
    reading = case.reading("value")
    if reading is None:
        return case.missing_reading()
    nominal = case.limit("nominal", reading.quantity)
    if nominal is None:
        return case.missing_limit("its rated value")
    low, high = (_share(case, name, nominal) for name in ("low_percent", "high_percent"))
    return against(case, reading, low, high, formula="low % ≤ 100 · reading / nominal ≤ high %")


def _share(case: Case, name: str, nominal: Known) -> Known | None:
    percent = case.limit(name, "percent")
    if percent is None:
        return None
    source = f"{plain(percent.value)} percent ({percent.source}) of {nominal.spoken()} ({nominal.source})"
    return Known(nominal.value * percent.value / 100, nominal.quantity, source, nominal.general)


@register(
    "drop",
    inputs={"idle": "reading", "loaded": "reading"},
    limits={"percent": "percent"},
    one_of=(("percent",),),
    outcomes=("ok", "high"),
)
def drop(case: Case) -> Judgement:
    """How far a voltage falls under load, in percent of the idle one."""
    idle, loaded = case.reading("idle"), case.reading("loaded")
    limit = case.limit("percent", "percent")
    if idle is None or loaded is None or not idle.value or loaded.value is None:
        return case.missing_reading("two readings")
    if limit is None:
        return case.missing_limit("the voltage drop")

    def fall(before: float, under_load: float) -> float:
        return 100 * (before - under_load) / before

    # One meter reads both: its percent error cancels, its offset does not.
    expanded = propagated(fall, (idle.number, loaded.number), (idle.accuracy.offset, loaded.accuracy.offset))
    value = fall(idle.number, loaded.number)
    result = judged(value, expanded, None, limit.value)
    says = f"It falls {plain(value)} percent under load; {plain(limit.value)} is allowed."
    working = sum_of(
        "100 · (idle - loaded) / idle",
        f"100 · ({idle.spoken()} - {loaded.spoken()}) / {idle.spoken()}",
        f"{plain(value)} ± {plain(expanded)} percent, limit {plain(limit.value)}",
        f"{limit.source}; {GUM}",
    )
    return case.judged(shares(result, ("ok", "ok", "high")), says, [working], settling(result, "percent"), (limit,))


@register(
    "compare",
    inputs={},
    may={"values": "readings", "first": "reading", "second": "reading"},
    limits={"percent": "percent", "absolute": "same"},
    one_of=(("percent", "absolute"),),
    outcomes=("same", "different", "open"),
    folds={"open": "different"},
)
def compare(case: Case) -> Judgement:
    """Like places read alike: the widest difference, absolute or in percent of the mean."""
    given = case.readings("values") or tuple(r for r in (case.reading("first"), case.reading("second")) if r)
    if len(given) < 2:
        return case.missing_reading("readings")
    if any(reading.open for reading in given):
        if all(reading.open for reading in given):
            return case.judged({"open": 1.0}, "Every place shows an open line.")
        return case.judged({"open": 1.0}, "One place shows an open line, the other does not.")
    if any(reading.value is None for reading in given):
        return case.missing_reading()
    percent = case.limit("percent", "percent")
    limit = percent or case.limit("absolute", given[0].quantity)
    if limit is None:
        return case.missing_limit("the difference")
    return _compared(case, given, limit, in_percent=percent is not None)


def _compared(case: Case, given: tuple[Measured, ...], limit: Known, in_percent: bool) -> Judgement:
    values = [reading.number for reading in given]
    mean = sum(values) / len(values)
    spread = max(values) - min(values)
    scale = 100 / abs(mean) if in_percent and mean else 1.0
    ends = [max(given, key=lambda r: r.number), min(given, key=lambda r: r.number)]
    expanded = combined([reading.expanded for reading in ends]) * scale
    value = spread * scale
    result = judged(value, expanded, None, limit.value)
    unit = "percent" if in_percent else ""
    amount = f"{plain(value)} {unit}".strip() if in_percent else given[0].spoken(spread)
    allowed = plain(limit.value) if in_percent else limit.spoken(given[0].shown)
    says = f"They differ by {amount}; {allowed} is allowed."
    working = sum_of(
        "100 · (largest - smallest) / mean" if in_percent else "largest - smallest",
        f"{ends[0].spoken()}, {ends[1].spoken()}",
        f"{amount}, limit {allowed}",
        f"{limit.source}; {GUM}",
    )
    names: Names = ("same", "same", "different")
    return case.judged(
        shares(result, names),
        says,
        [working],
        settling(result, "percent" if in_percent else given[0].quantity),
        (limit,),
    )


@register(
    "line-length",
    inputs={"length": "reading", "height": "reading"},
    limits={"longest": "length", "greatest": "length"},
    one_of=(("longest", "greatest"),),
    outcomes=("inside", "beyond"),
)
def line_length(case: Case) -> Judgement:
    """Length and height of the lines against what the unit allows."""
    pairs = {"length": (case.reading("length"), "longest"), "height": (case.reading("height"), "greatest")}
    beyond, parts, limits = 0.0, [], []
    for what, (reading, name) in pairs.items():
        limit = case.limit(name, "length")
        if reading is None or reading.value is None or limit is None:
            continue
        chance = judged(reading.number, reading.expanded, None, limit.value).chance_above
        beyond = 1 - (1 - beyond) * (1 - chance)
        limits.append(limit)
        allowed = plain(from_canonical(limit.value, reading.shown, limit.quantity))
        parts.append(f"{what} {reading.spoken()} of {allowed}")
    if not parts:
        return case.missing_limit("the longest line")
    says = f"{', '.join(parts)}: {'too much' if beyond > 0.5 else 'allowed'}.".capitalize()
    chances: Mapping[str, float] = {"inside": 1 - beyond, "beyond": beyond}
    working = sum_of("length ≤ longest, height ≤ greatest", "; ".join(parts), says, limits[0].source)
    return case.judged(chances, says, [working], "Measure the line once more.", limits)
