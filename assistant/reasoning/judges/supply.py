"""Judges of the supply and of the bus behind the rectifier."""

from __future__ import annotations

from assistant.calculations.power_stage import RECTIFIER_SOURCE, bus_peak_v
from assistant.calculations.supply import BAND_SOURCE, UNBALANCE_SOURCE, USUAL_STANDARD, System, band_v, judge_unbalance
from assistant.calculations.uncertainty import GUM, judged
from assistant.language.meaning import Quantity
from assistant.library.profile import UnitProfile
from assistant.reasoning.judgement import Judgement
from assistant.reasoning.judges.case import Case, sum_of
from assistant.reasoning.judges.limits import against, settling, shares
from assistant.reasoning.judges.registry import register
from assistant.reasoning.judges.values import Known, Measured, plain

#: A place under this share of its lower limit carries nothing. Common practice, no source.
LOST_SHARE = 0.5
#: A bus under this share of what the line should give is not there at all. Common practice, no source.
ABSENT_SHARE = 0.1


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
    if low is None and high is None and case.profile is not None:
        low, high = _usual_band(_system(case, case.profile), volts[0].quantity)
    if low is None or high is None:
        return case.missing_limit("the supply's band")
    lost = [reading for reading in volts if reading.number < LOST_SHARE * low.value]
    if lost and case.lists("lost-leg"):
        places = " and ".join(reading.place for reading in lost if reading.place) or "it"
        return case.judged(
            {"lost-leg": 1.0}, f"Only {lost[0].spoken()} at {places}: a leg is missing.", limits=(low, high)
        )
    worst = min(volts, key=lambda reading: min(reading.number - low.value, high.value - reading.number))
    unbalance = case.limit("unbalance_percent", "percent")
    if len(volts) == 3 and unbalance is not None:
        return _three(case, volts, worst, (low, high, unbalance))
    return against(case, worst, low, high)


def _system(case: Case, profile: UnitProfile) -> System:
    system = profile.supply.system
    return "single-phase-230" if system == "three-phase-400" and case.option("at") == "indoor" else system


def _usual_band(system: System, quantity: Quantity) -> tuple[Known, Known]:
    standard = USUAL_STANDARD[system]
    low, high = (Known(volts, quantity, BAND_SOURCE[standard], False) for volts in band_v(system, standard))
    return low, high


def _three(case: Case, volts: tuple[Measured, ...], worst: Measured, limits: tuple[Known, Known, Known]) -> Judgement:
    low, high, unbalance = limits
    first, second, third = (reading.number for reading in volts)
    found = judge_unbalance(first, second, third, volts[0].accuracy, unbalance.value)
    band = shares(judged(worst.number, worst.expanded, low.value, high.value))
    chances = {"low": band["low"], "high": band["high"]}
    chances["unbalanced"] = band["ok"] * found.against.chance_above
    chances["ok"] = band["ok"] - chances["unbalanced"]
    likely = max(chances, key=lambda key: chances[key])
    if likely in ("low", "high"):
        return against(case, worst, low, high)
    says = f"{plain(found.percent)} percent unbalance between the legs, limit {plain(unbalance.value)}: {likely}."
    working = sum_of(
        "100 · max |V - mean| / mean",
        ", ".join(f"{reading.place} {reading.spoken()}" for reading in volts),
        f"{plain(found.percent)} percent, limit {plain(unbalance.value)}",
        f"{UNBALANCE_SOURCE}; limit: {unbalance.source}; {GUM}",
    )
    return case.judged(chances, says, [working], settling(found.against, "percent"), limits)


@register(
    "bus-live",
    inputs={"voltage": "reading"},
    may={"supply": "reading"},
    limits={"low_percent": "percent", "high_percent": "percent"},
    one_of=(("low_percent",), ("high_percent",)),
    outcomes=("ok", "low", "high", "absent"),
    folds={"absent": "low"},
)
def bus_live(case: Case) -> Judgement:
    """The bus against the peak of the line (measured, or the profile's nominal), allowing for an active boost."""
    reading, line = case.reading("voltage"), case.reading("supply")
    if reading is None or reading.value is None:
        return case.missing_reading("voltage")
    below, above = case.limit("low_percent", "percent"), case.limit("high_percent", "percent")
    line_v = line.value if line and line.value else case.profile.supply.nominal_v if case.profile else None
    if below is None or above is None or line_v is None:
        return case.missing_limit("the bus voltage")
    peak = bus_peak_v(line_v)
    if reading.number < ABSENT_SHARE * peak and case.lists("absent"):
        return case.judged({"absent": 1.0}, f"Only {reading.spoken()} on the bus where {plain(peak)} volts are due.")
    boosted = case.profile.bus.boosted_v if case.profile and case.profile.bus else None
    source = f"{RECTIFIER_SOURCE}; {below.source}"
    low = Known(peak * (1 - below.value / 100), reading.quantity, source, False)
    high = Known(max(peak, boosted or 0.0) * (1 + above.value / 100), reading.quantity, source, False)
    return against(case, reading, low, high, formula=f"√2 · {plain(line_v)} V = {plain(peak)} V, with its band")


@register(
    "pull-down",
    inputs={"plugged": "reading", "unplugged": "reading"},
    limits={"normal_low": "same"},
    one_of=(("normal_low",),),
    outcomes=("never-low", "recovers", "stays-low"),
)
def pull_down(case: Case) -> Judgement:
    """A supply with a part plugged in and unplugged: what comes back was pulled down by that part."""
    plugged, unplugged = case.reading("plugged"), case.reading("unplugged")
    if plugged is None or unplugged is None or plugged.value is None or unplugged.value is None:
        return case.missing_reading("two voltages")
    limit = case.limit("normal_low", plugged.quantity)
    if limit is None:
        return case.missing_limit("the supply")
    first = judged(abs(plugged.number), plugged.expanded, limit.value)
    second = judged(abs(unplugged.number), unplugged.expanded, limit.value)
    chances = {
        "never-low": first.chance_inside,
        "recovers": first.chance_below * second.chance_inside,
        "stays-low": first.chance_below * second.chance_below,
    }
    likely = max(chances, key=lambda key: chances[key])
    meaning = {
        "never-low": "it is not pulled down",
        "recovers": "the part that was unplugged pulls it down",
        "stays-low": "the fault lies before the plug",
    }[likely]
    says = f"{plugged.spoken()} plugged, {unplugged.spoken()} unplugged: {meaning}."
    working = sum_of(
        "plugged ≥ low? unplugged ≥ low?",
        f"{plugged.spoken()}, {unplugged.spoken()}, low {limit.spoken()}",
        likely,
        f"{limit.source}; {GUM}",
    )
    return case.judged(chances, says, [working], settling(first, plugged.quantity), (limit,))


@register(
    "supplied",
    inputs={"voltage": "reading", "works": "choice"},
    limits={"low": "same"},
    one_of=(("low",),),
    outcomes=("works", "unsupplied", "failed"),
)
def supplied(case: Case) -> Judgement:
    """A part that works needs no voltage to prove it; one that does not is failed only if its supply is there."""
    voltage, works = case.reading("voltage"), case.choice("works")
    if works == "yes":
        return case.judged({"works": 1.0}, "It works.")
    if voltage is None or voltage.value is None or works is None:
        return case.missing_reading("voltage")
    low = case.limit("low", voltage.quantity)
    if low is None:
        return case.missing_limit("its supply")
    result = judged(abs(voltage.number), voltage.expanded, low.value)
    chances = {"unsupplied": result.chance_below, "failed": result.chance_inside}
    there = result.chance_inside > 0.5
    says = f"{voltage.spoken()}, {low.spoken()} is wanted: {'supplied, yet not working' if there else 'not supplied'}."
    working = sum_of(
        "supply ≥ low while the part does not work",
        f"{voltage.spoken()}, low {low.spoken()}",
        "failed" if there else "unsupplied",
        f"{low.source}; {GUM}",
    )
    return case.judged(chances, says, [working], settling(result, voltage.quantity), (low,))


@register(
    "breaker",
    inputs={"current": "reading", "tripped": "choice"},
    limits={"rating": "current"},
    one_of=(("rating",),),
    outcomes=("held", "weak", "overload"),
)
def breaker(case: Case) -> Judgement:
    """A breaker that trips under its rating is weak; above it, it does its work."""
    current, tripped = case.reading("current"), case.choice("tripped")
    if tripped == "no":
        return case.judged({"held": 1.0}, "The breaker held.")
    if current is None or current.value is None or tripped is None:
        return case.missing_reading("current")
    rating = case.limit("rating", current.quantity)
    if rating is None:
        return case.missing_limit("the breaker's rating")
    result = judged(current.number, current.expanded, None, rating.value)
    weak = result.chance_above < 0.5
    says = (
        f"It tripped at {current.spoken()}, rated {rating.spoken()}: {'it is weak' if weak else 'too much is drawn'}."
    )
    working = sum_of(
        "tripped, and current ≤ rating?",
        f"{current.spoken()}, rating {rating.spoken()}",
        "weak" if weak else "overload",
        f"{rating.source}; {GUM}",
    )
    chances = shares(result, ("weak", "weak", "overload"))
    return case.judged(chances, says, [working], settling(result, current.quantity), (rating,))
