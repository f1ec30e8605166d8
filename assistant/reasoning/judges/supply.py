"""Judges of the supply and of the bus behind the rectifier."""

from __future__ import annotations

from assistant.calculations.bus_judging import BAND_PERCENT
from assistant.calculations.supplied import RAIL_LOW_V
from assistant.calculations.supply import BAND_SOURCE, UNBALANCE_PERCENT, USUAL_STANDARD, System
from assistant.calculations.supply_judging import LOST_SOURCE, PAIRS, judge_supply
from assistant.calculations.uncertainty import GUM
from assistant.library.profile import UnitProfile
from assistant.messages.catalogue import plain
from assistant.messages.message import Message, listed, message, percent
from assistant.reasoning.judgement import Judgement
from assistant.reasoning.judges.case import Case, Taken, sum_of, told
from assistant.reasoning.judges.limits import beside, judged_reading, number
from assistant.reasoning.judges.registry import register
from assistant.reasoning.judges.values import Known, Measured


@register(
    "supply",
    inputs={"voltages": "readings"},
    limits={"low": "same", "high": "same", "unbalance_percent": "percent"},
    options=("at",),
    outcomes=("ok", "low", "high", "unbalanced", "lost-leg"),
    folds={"unbalanced": "low", "lost-leg": "low"},
)
def supply(case: Case) -> Judgement:
    """One voltage, or three between legs, against their band, their unbalance, and a leg that is not there.

    Without limits in the check the band is the usual one of the profile's supply system; with option ``at: indoor``
    that of the indoor unit, which a three-phase outdoor unit feeds from one phase.
    """
    volts = case.readings("voltages")
    if not volts or any(reading.value is None for reading in volts):
        return case.missing_reading("voltage")
    low, high = case.limit("low", volts[0].quantity), case.limit("high", volts[0].quantity)
    if case.profile is None and (low is None or high is None):
        return case.missing_limit("supply-band")
    system: System = _system(case, case.profile) if case.profile else "single-phase-230"
    unbalance = case.limit_or("unbalance_percent", "percent", UNBALANCE_PERCENT)
    places = PAIRS if len(volts) == 3 else tuple(reading.place_id for reading in volts)
    found = judge_supply(
        dict(zip(places, (reading.metered for reading in volts), strict=True)),
        system,
        low_v=None if low is None else low.bound,
        high_v=None if high is None else high.bound,
        unbalance_limit_percent=unbalance.bound,
    )
    by_place = dict(zip(places, volts, strict=True))
    ends = tuple(
        given or Known(number(found.values[side]), volts[0].quantity, BAND_SOURCE[USUAL_STANDARD[system]], False)
        for side, given in (("low", low), ("high", high))
    )
    odd = [by_place[place] for place in found.places if place in by_place]
    working = sum_of(
        "low ≤ each V ≤ high" + ("; 100 · max |V - mean| / mean" if len(volts) == 3 else ""),
        ", ".join(f"{reading.place} {told(reading)}".strip() for reading in volts),
        f"{found.outcome}; {ends[0].spoken()} to {ends[1].spoken()}"
        + (f", unbalance limit {plain(unbalance.value)} percent" if len(volts) == 3 else ""),
        "; ".join(dict.fromkeys([*(end.source for end in ends), unbalance.source, LOST_SOURCE, GUM])),
    )
    says = _supply_says(found.outcome, odd or list(volts), found.places, found.values.get("unbalance"), unbalance)
    if says is None:
        if found.against is None:
            raise ValueError("a supply was not judged")
        worst = odd[0] if odd else volts[0]
        says = judged_reading(worst, beside(found.against, ends[0], ends[1], worst.shown))
    return case.found(found, says, [working], limits=ends, quantity=volts[0].quantity)


def _supply_says(
    outcome: str, odd: list[Measured], legs: tuple[str, ...], unbalance: object, limit: Known
) -> Message | None:
    """What is wrong beyond the band, or how even three phases are; None for a voltage against its band."""
    if outcome == "lost-leg":
        places = [reading.at for reading in odd if reading.at]
        if all(leg.count("-") for leg in legs) or len(odd) == 1:
            if not places:
                return message("leg-missing", reading=odd[0].amount())
            return message("leg-missing-at", reading=odd[0].amount(), places=listed(places))
        return message("legs-missing", legs=" and ".join(leg.removeprefix("l") for leg in legs))
    if unbalance is None or outcome not in ("ok", "unbalanced"):
        return None
    return message("unbalance", unbalance=percent(number(unbalance)), limit=limit.amount(), outcome=outcome)


def _system(case: Case, profile: UnitProfile) -> System:
    system = profile.supply.system
    return "single-phase-230" if system == "three-phase-400" and case.option("at") == "indoor" else system


@register(
    "bus-live",
    inputs={"voltage": "reading"},
    may={"supply": "reading", "calling": "choice"},
    limits={"band_percent": "percent"},
    outcomes=("ok", "low", "high", "absent", "resting"),
    folds={"absent": "low", "resting": "absent"},
)
def bus_live(case: Case) -> Judgement:
    """The bus against the peak of the line (measured, or the profile's nominal), allowing for doubler and boost.

    ``calling`` (yes, no): a unit that is not told to run may have cut its bus off.
    """
    reading, line = case.reading("voltage"), case.reading("supply")
    if reading is None or reading.value is None:
        return case.missing_reading("voltage")
    line_v: Taken = line if line and line.value else case.profile.supply.nominal_v if case.profile else None
    if line_v is None:
        return case.missing_limit("bus-voltage")
    boosted = case.profile.bus.boosted_v if case.profile and case.profile.bus else None
    band = case.limit_or("band_percent", "percent", BAND_PERCENT)
    calling = "no" if case.choice("calling") == "no" else "yes"
    values: dict[str, Taken] = {"voltage": reading, "line": line_v, "boosted": boosted, "band": band}
    result = case.run("bus", {**values, "calling": calling})
    found = result.found
    outcome = str(result.answer("outcome"))
    if outcome == "absent":
        says = message("bus-absent", reading=reading.amount(), peak=reading.amount(number(result.answer("peak"))))
    elif outcome == "resting":
        says = message("bus-resting", reading=reading.amount())
    else:
        low, high = (Known(number(result.answer(side)), reading.quantity, "", False) for side in ("low", "high"))
        if found is None or found.against is None:
            raise ValueError("a bus was not judged")
        where = beside(found.against, low, high, reading.shown)
        says = message("judged-reading", reading=reading.amount(), beside=where)
    judgement = case.ran(result, says, quantity=reading.quantity)
    if judgement.outcome == "resting":
        return judgement.model_copy(update={"better": message("call-and-measure")})
    return judgement


@register(
    "pull-down",
    inputs={"plugged": "reading", "unplugged": "reading"},
    limits={"normal_low": "same"},
    outcomes=("never-low", "recovers", "stays-low"),
)
def pull_down(case: Case) -> Judgement:
    """A supply with a part plugged in and unplugged: what comes back was pulled down by that part."""
    given = case.given("plugged", "unplugged")
    if given is None:
        return case.missing_reading("two-voltages")
    plugged, unplugged = given
    limit = case.limit_or("normal_low", plugged.quantity, RAIL_LOW_V)
    result = case.run("pull-down", {"plugged": plugged, "unplugged": unplugged, "low": limit})
    outcome = str(result.answer("outcome"))
    says = message("pulled-down", plugged=plugged.amount(), unplugged=unplugged.amount(), outcome=outcome)
    return case.ran(result, says, limits=(limit,), quantity=plugged.quantity)


@register(
    "supplied",
    inputs={"voltage": "reading", "works": "choice"},
    limits={"low": "same"},
    outcomes=("works", "unsupplied", "failed"),
)
def supplied(case: Case) -> Judgement:
    """A part that works needs no voltage to prove it; one that does not is failed only if its supply is there."""
    voltage, works = case.reading("voltage"), case.choice("works")
    if works == "yes":
        return case.judged({"works": 1.0}, message("it-works"))
    if voltage is None or not voltage.there or works is None:
        return case.missing_reading("voltage")
    low = case.limit_or("low", voltage.quantity, RAIL_LOW_V)
    result = case.run("supplied", {"voltage": voltage, "works": works, "low": low})
    outcome = str(result.answer("outcome"))
    says = message("supplied", voltage=voltage.amount(), low=low.amount(), outcome=outcome)
    return case.ran(result, says, limits=(low,), quantity=voltage.quantity)


@register(
    "breaker",
    inputs={"current": "reading", "tripped": "choice"},
    may={"rating": "reading", "kind": "choice"},
    limits={"rating": "current"},
    outcomes=("held", "weak", "overload", "ground-fault"),
    folds={"ground-fault": "weak"},
)
def breaker(case: Case) -> Judgement:
    """A breaker that trips under its rating is weak; above it, it does its work.

    The rating is that printed on it (``rating``), or the profile's; one that also trips for a leak to ground
    (``kind``) is not condemned for tripping early.
    """
    current, tripped = case.reading("current"), case.choice("tripped")
    if tripped == "no":
        return case.judged({"held": 1.0}, message("breaker-held"))
    if current is None or current.value is None or tripped is None:
        return case.missing_reading("current")
    printed = case.reading("rating")
    rating: Taken = printed.value if printed and printed.value else case.limit("rating", current.quantity)
    if rating is None:
        return case.missing_limit("breaker-rating")
    kind = case.choice("kind") or "plain"
    result = case.run("breaker", {"current": current, "tripped": tripped, "rating": rating, "kind": kind})
    rated = rating.amount() if isinstance(rating, Known) else current.amount(number(rating))
    outcome = str(result.answer("outcome"))
    says = message("breaker-tripped", current=current.amount(), rated=rated, outcome=outcome)
    general = (rating,) if isinstance(rating, Known) else ()
    return case.ran(result, says, limits=general, quantity=current.quantity)
