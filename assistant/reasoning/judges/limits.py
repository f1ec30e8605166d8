"""Judges of numbers against fixed limits: range, at-most, at-least, relative, drop, compare, line-length."""

from __future__ import annotations

from assistant.calculations import values
from assistant.calculations.conductors import DROP_PERCENT
from assistant.calculations.electrical_power import RUNNING_HIGH_PERCENT, RUNNING_LOW_PERCENT
from assistant.calculations.found import Found
from assistant.calculations.uncertainty import GUM, Judged
from assistant.messages.catalogue import plain
from assistant.messages.message import Message, message, percent
from assistant.reasoning.judgement import Judgement
from assistant.reasoning.judges.case import Case, sum_of, told
from assistant.reasoning.judges.registry import register
from assistant.reasoning.judges.values import Known, Measured


def against(case: Case, reading: Measured, low: Known | None, high: Known | None, found: Found) -> Judgement:
    """The judgement of a reading against one or two limits that a calculation found."""
    judged = found.against
    if judged is None:
        raise ValueError("a reading without a number was judged")
    says = judged_reading(reading, beside(judged, low, high, reading.shown))
    working = sum_of(
        "low ≤ reading ≤ high" if low and high else "reading ≥ low" if low else "reading ≤ high",
        f"{told(reading)}; {_limits_text(low, high, reading.shown)}",
        _side(judged),
        "; ".join(dict.fromkeys([*(limit.source for limit in (low, high) if limit), GUM])),
    )
    return case.found(found, says, [working], limits=(low, high), quantity=reading.quantity)


def judged_reading(reading: Measured, where: Message) -> Message:
    """A reading, its place where it has one, and where it lies beside its limits."""
    if reading.at is not None:
        return message("judged-reading-at", reading=reading.amount(), place=reading.at, beside=where)
    return message("judged-reading", reading=reading.amount(), beside=where)


def _side(result: Judged) -> str:
    chances = {"below": result.chance_below, "inside": result.chance_inside, "above": result.chance_above}
    likely = max(chances, key=lambda key: chances[key])
    return f"{likely}, {100 * chances[likely]:.0f} percent sure"


def beside(result: Judged, low: Known | None, high: Known | None, shown: str) -> Message:
    """Where a reading lies beside its limits, the end of a sentence."""
    unsure = result.verdict == "undecided"
    sure = "no" if unsure else "yes"
    if low is not None and result.chance_below >= max(result.chance_inside, result.chance_above):
        return message("beside-low", sure=sure, limit=low.amount(low.unit(shown)))
    if high is not None and result.chance_above >= result.chance_inside:
        return message("beside-high", sure=sure, limit=high.amount(high.unit(shown)))
    if unsure:
        nearest = _nearest(result, low, high)
        return message("beside-near", limit=nearest.amount(nearest.unit(shown)))
    if low is not None and high is not None:
        shown = high.unit(shown)
        return message("beside-between", low=low.amount(shown), high=high.amount(shown))
    if low is not None:
        return message("beside-least", low=low.amount(low.unit(shown)))
    if high is None:
        raise ValueError("a judged value has at least one limit")
    return message("beside-most", high=high.amount(high.unit(shown)))


def _nearest(result: Judged, low: Known | None, high: Known | None) -> Known:
    wanted = low if high is None or (low is not None and result.chance_below >= result.chance_above) else high
    if wanted is None:
        raise ValueError("a judged value has at least one limit")
    return wanted


def _limits_text(low: Known | None, high: Known | None, shown: str) -> str:
    if low is not None and high is not None:
        shown = high.unit(shown)
        return f"limits {low.spoken(shown).split(' ')[0]} to {high.spoken(shown)}"
    if low is not None:
        return f"at least {low.spoken(low.unit(shown))} is wanted"
    return f"at most {high.spoken(high.unit(shown))} is allowed" if high is not None else "no limit"


def _judged(case: Case, low: Known | None, high: Known | None) -> Judgement:
    reading = case.reading("value")
    if reading is None or not reading.there:
        return case.missing_reading()
    if reading.open:
        return case.judged({"open": 1.0}, message("meter-open"))
    if low is None and high is None:
        return case.missing_limit("limit")
    bounds = None if low is None else low.bound, None if high is None else high.bound
    return against(case, reading, low, high, values.judge_value(reading.metered, *bounds))


def _limit(case: Case, name: str) -> Known | None:
    reading = case.reading("value")
    return case.limit(name, reading.quantity) if reading else None


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
    return _judged(case, _limit(case, "low"), _limit(case, "high"))


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
    return _judged(case, None, _limit(case, "high"))


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
    reading, low = case.reading("value"), _limit(case, "low")
    if reading is None or not reading.there:
        return case.missing_reading()
    if reading.open:
        return case.judged({"ok": 1.0}, message("meter-open-good"))
    if low is None:
        return case.missing_limit("limit")
    found = values.judge_at_least(reading.metered, low.bound)
    if found.against is None:
        working = sum_of("reading ≥ low", told(reading), f"{found.outcome}, under a tenth of it", low.source)
        says = message("nothing-there", reading=reading.amount(), low=low.amount(reading.shown))
        return case.found(found, says, [working], limits=(low,))
    return against(case, reading, low, None, found)


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
    if reading is None or not reading.there:
        return case.missing_reading()
    if reading.open:
        return case.judged({"open": 1.0}, message("meter-open"))
    nominal = case.limit("nominal", reading.quantity)
    if nominal is None:
        return case.missing_limit("rated")
    low, high = (case.limit(name, "percent") for name in ("low_percent", "high_percent"))
    bounds = None if low is None else low.bound, None if high is None else high.bound
    found = values.judge_share(reading.metered, nominal.value, *bounds)
    return _share(case, reading, nominal, (low, high), found)


def _share(
    case: Case, reading: Measured, nominal: Known, shares: tuple[Known | None, Known | None], found: Found
) -> Judgement:
    """A reading judged in percent of a nominal one, told in its own unit."""
    low, high = (
        None
        if share is None
        else Known(
            nominal.value * share.value / 100,
            nominal.quantity,
            f"{plain(share.value)} percent ({share.source}) of {nominal.spoken()} ({nominal.source})",
            nominal.general,
        )
        for share in shares
    )
    return against(case, reading, low, high, _rescaled(found, nominal.value / 100))


def _rescaled(found: Found, factor: float) -> Found:
    """What was found in percent, its margins in the unit of the reading."""
    judged = found.against
    if judged is None:
        return found
    in_unit = judged._replace(
        margin=judged.margin * factor, expanded=judged.expanded * factor, settling=judged.settling * factor
    )
    return Found(found.chances, found.good, found.unsettled, found.values, in_unit)


@register(
    "running-current",
    inputs={"current": "reading"},
    limits={"nameplate": "current", "low_percent": "percent", "high_percent": "percent"},
    one_of=(("nameplate",),),
    outcomes=("low", "ok", "high"),
)
def running_current(case: Case) -> Judgement:
    """The running current in percent of the nameplate's."""
    reading, nameplate = case.reading("current"), case.limit("nameplate", "current")
    if reading is None or reading.value is None:
        return case.missing_reading("current")
    if nameplate is None:
        return case.missing_limit("nameplate-current")
    low = case.limit_or("low_percent", "percent", RUNNING_LOW_PERCENT)
    high = case.limit_or("high_percent", "percent", RUNNING_HIGH_PERCENT)
    result = case.run("running-current", {"current": reading, "nameplate": nameplate, "low": low, "high": high})
    if result.found is None:
        raise ValueError("running-current judges nothing")
    judgement = _share(case, reading, nameplate, (low, high), result.found)
    return case.ran(result, judgement.says, limits=(nameplate,), quantity="percent")


@register(
    "drop",
    inputs={"idle": "reading", "loaded": "reading"},
    limits={"percent": "percent"},
    outcomes=("ok", "high"),
)
def drop(case: Case) -> Judgement:
    """How far a voltage falls under load, in percent of the idle one."""
    given, limit = case.given("idle", "loaded"), case.limit_or("percent", "percent", DROP_PERCENT)
    if given is None or not given[0].value:
        return case.missing_reading("two-readings")
    result = case.run("supply-drop-judged", {"idle": given[0], "loaded": given[1], "largest": limit})
    says = message("falls-under-load", drop=percent(number(result.answer("drop"))), limit=limit.amount())
    return case.ran(result, says, limits=(limit,), quantity="percent")


def number(value: object) -> float:
    """A result that is a number."""
    if not isinstance(value, float | int):
        raise TypeError(f"{value!r} is no number")
    return float(value)


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
    if any(not reading.there for reading in given):
        return case.missing_reading()
    in_percent = case.limit("percent", "percent")
    limit = in_percent or case.limit("absolute", given[0].quantity)
    if limit is None:
        return case.missing_limit("difference")
    found = values.judge_alike([reading.metered for reading in given], limit.bound, in_percent=in_percent is not None)
    if found.outcome == "open":
        every = all(reading.open for reading in given)
        says = message("every-place-open" if every else "one-place-open")
        return case.found(found, says)
    spread = number(found.values["spread"])
    amount = f"{plain(spread)} percent" if in_percent else given[0].spoken(spread)
    allowed = plain(limit.value) if in_percent else limit.spoken(given[0].shown)
    working = sum_of(
        values.ALIKE_SOURCE if in_percent else "largest - smallest",
        ", ".join(f"{reading.place} {told(reading)}".strip() for reading in given),
        f"{amount}, limit {allowed}; {found.outcome}, {100 * found.chances[found.outcome]:.0f} percent sure",
        f"{limit.source}; {GUM}",
    )
    says = message(
        "they-differ",
        spread=percent(spread) if in_percent else given[0].amount(spread),
        limit=limit.amount(None if in_percent else given[0].shown),
    )
    return case.found(found, says, [working], limits=(limit,), quantity="percent" if in_percent else given[0].quantity)


@register(
    "line-length",
    inputs={"length": "reading", "height": "reading"},
    limits={"longest": "length", "greatest": "length"},
    one_of=(("longest", "greatest"),),
    outcomes=("inside", "beyond"),
)
def line_length(case: Case) -> Judgement:
    """Length and height of the lines against what the unit allows."""
    pairs = {"length": "longest", "height": "greatest"}
    taken: dict[str, Measured | Known] = {}
    parts: list[Message] = []
    limits = []
    for what, name in pairs.items():
        limit, reading = case.limit(name, "length"), case.reading(what)
        if reading is None or reading.value is None or limit is None:
            continue
        taken |= {what: reading, name: limit}
        limits.append(limit)
        parts.append(message("line-part", what=what, reading=reading.amount(), limit=limit.amount(reading.shown)))
    if not parts:
        return case.missing_limit("longest-line")
    result = case.run("line-length", taken)
    both = parts[0] if len(parts) == 1 else message("listed", first=parts[0], last=parts[1])
    says = message("lines", parts=both, outcome=str(result.answer("outcome")))
    return case.ran(result, says, limits=limits, quantity="length")
