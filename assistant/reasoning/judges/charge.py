"""Judges of the charge, the nitrogen test and the vacuum."""

from __future__ import annotations

from assistant.calculations.atmosphere import absolute_kpa
from assistant.calculations.tightness import NITROGEN_SOURCE, nitrogen_expected_kpa
from assistant.calculations.uncertainty import GUM, combined, judged, propagated
from assistant.reasoning.judgement import Judgement
from assistant.reasoning.judges.case import Case, sum_of
from assistant.reasoning.judges.limits import against, shares
from assistant.reasoning.judges.registry import register
from assistant.reasoning.judges.values import Known, Measured, plain

#: What a charge may be off however small it is. Common practice, no source.
LEAST_OFF_KG = 0.05


def _extra_kg(case: Case, length: Measured) -> tuple[float, Known] | None:
    """Charge to be added for the line's length in kg, and the figure it comes from."""
    free, added = case.limit("free_length", "length"), case.limit("added_g_per_m", "count")
    if free is None or added is None:
        return None
    return max(0.0, length.number - free.value) * added.value / 1000, added


@register(
    "charge-weighed",
    inputs={"mass": "reading", "length": "reading"},
    limits={
        "charge": "mass",
        "free_length": "length",
        "added_g_per_m": "count",
        "low_percent": "percent",
        "high_percent": "percent",
    },
    one_of=(("charge",), ("free_length",), ("added_g_per_m",), ("low_percent",), ("high_percent",)),
    outcomes=("low", "ok", "high"),
)
def charge_weighed(case: Case) -> Judgement:
    """The charge recovered against nameplate plus what the line's length asks for."""
    mass, length, charge = case.reading("mass"), case.reading("length"), case.limit("charge", "mass")
    if mass is None or length is None or mass.value is None or length.value is None:
        return case.missing_reading("weight and length")
    extra = _extra_kg(case, length)
    shares_ = case.limit("low_percent", "percent"), case.limit("high_percent", "percent")
    if charge is None or extra is None or shares_[0] is None or shares_[1] is None:
        return case.missing_limit("the charge")
    due = charge.value + extra[0]
    low, high = (
        Known(due * share.value / 100, "mass", f"{share.source}; {charge.source}", charge.general)
        for share in shares_
        if share is not None
    )
    formula = f"due = charge + (length - free) · added = {plain(due)} kg"
    return against(case, mass, low, high, formula=formula)


@register(
    "charge-added",
    inputs={"mass": "reading", "length": "reading"},
    limits={"free_length": "length", "added_g_per_m": "count", "tolerance_percent": "percent"},
    one_of=(("free_length",), ("added_g_per_m",), ("tolerance_percent",)),
    outcomes=("low", "ok", "high"),
)
def charge_added(case: Case) -> Judgement:
    """What was added at installation against what the line's length asks for."""
    mass, length = case.reading("mass"), case.reading("length")
    if mass is None or length is None or mass.value is None or length.value is None:
        return case.missing_reading("weight and length")
    extra, tolerance = _extra_kg(case, length), case.limit("tolerance_percent", "percent")
    if extra is None or tolerance is None:
        return case.missing_limit("the added charge")
    due, added = extra
    off = max(LEAST_OFF_KG, due * tolerance.value / 100)
    source = f"{added.source}; {tolerance.source}"
    low, high = (Known(due + side * off, "mass", source, added.general) for side in (-1, 1))
    return against(case, mass, low, high, formula=f"due = (length - free) · added = {plain(due)} kg")


@register(
    "nitrogen-hold",
    inputs={"start": "reading", "end": "reading", "start_air": "reading", "end_air": "reading"},
    limits={"drop_percent": "percent"},
    one_of=(("drop_percent",),),
    outcomes=("holds", "falls"),
)
def nitrogen_hold(case: Case) -> Judgement:
    """The pressure of a nitrogen test, less what a cooler pipe takes off it: a tight circuit keeps its density."""
    names = ("start", "end", "start_air", "end_air")
    given = [reading for reading in (case.reading(name) for name in names) if reading and reading.value is not None]
    limit = case.limit("drop_percent", "percent")
    if len(given) < 4:
        return case.missing_reading("pressures and temperatures")
    if limit is None:
        return case.missing_limit("the allowed fall")

    def fall(start: float, end: float, start_c: float, end_c: float) -> float:
        expected = absolute_kpa(nitrogen_expected_kpa(start, start_c, end_c))
        return 100 * (expected - absolute_kpa(end)) / expected

    values = [reading.number for reading in given]
    # The same gauge and thermometer read both times: only their offsets differ from reading to reading.
    widths = [reading.accuracy.offset for reading in given]
    value = fall(*values)
    result = judged(value, propagated(fall, values, widths), None, limit.value)
    found = shares(result, ("holds", "holds", "falls"))
    verdict = "falls" if found["falls"] > 0.5 else "holds"
    fell = f"pressure fell {plain(max(0.0, value))} percent"
    says = f"Corrected for the temperature, {fell}; {plain(limit.value)} is allowed: it {verdict}."
    working = sum_of(
        "expected: real nitrogen of the same density at T2; fall = (expected - p2) / expected, absolute",
        ", ".join(reading.spoken() for reading in given),
        f"{plain(value)} ± {plain(result.expanded)} percent",
        f"{NITROGEN_SOURCE}; {limit.source}; {GUM}",
    )
    return case.judged(found, says, [working], "Leave it longer and read again.", (limit,))


@register(
    "vacuum-decay",
    inputs={"reached": "reading", "after": "reading"},
    limits={"reached": "vacuum", "plateau": "vacuum", "leak": "vacuum"},
    one_of=(("reached",), ("plateau",), ("leak",)),
    outcomes=("holds", "moisture", "leak", "not-deep"),
)
def vacuum_decay(case: Case) -> Judgement:
    """A vacuum reached, then left alone: it holds, rises to the plateau of moisture, or goes on rising with a leak."""
    reached, after = case.reading("reached"), case.reading("after")
    limits = [case.limit(name, "vacuum") for name in ("reached", "plateau", "leak")]
    if reached is None or after is None or reached.value is None or after.value is None:
        return case.missing_reading("two vacuum readings")
    deep, plateau, leak = limits
    if deep is None or plateau is None or leak is None:
        return case.missing_limit("the vacuum")
    shallow = judged(reached.number, reached.expanded, None, deep.value).chance_above
    held = judged(after.number, combined([after.expanded]), plateau.value, leak.value)
    rest = 1 - shallow
    chances = {
        "not-deep": shallow,
        "holds": rest * held.chance_below,
        "moisture": rest * held.chance_inside,
        "leak": rest * held.chance_above,
    }
    likely = max(chances, key=lambda key: chances[key])
    meaning = {
        "not-deep": "not deep enough yet",
        "holds": "it holds",
        "moisture": "it stops rising, which is moisture",
        "leak": "it rises on, which is a leak",
    }[likely]
    says = f"From {reached.spoken()} to {after.spoken()}: {meaning}."
    working = sum_of(
        "reached ≤ limit, then the rise with the pump off",
        f"{reached.spoken()}, {after.spoken()}",
        f"{likely}; plateau {plateau.spoken()}, leak above {leak.spoken()}",
        f"{plateau.source}; {GUM}",
    )
    return case.judged(chances, says, [working], "Leave it longer with the pump valved off.", limits)
