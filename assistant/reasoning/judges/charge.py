"""Judges of the charge, the nitrogen test and the vacuum."""

from __future__ import annotations

from assistant.calculations.charge import ADDED_PERCENT, CHARGE_PERCENT
from assistant.calculations.entry import Result
from assistant.calculations.tightness import ALLOWED_PERCENT, DEEP_PA, RISEN_PA
from assistant.messages.message import Message, Value, message
from assistant.reasoning.judgement import Judgement
from assistant.reasoning.judges.case import Case, Taken
from assistant.reasoning.judges.limits import number
from assistant.reasoning.judges.registry import register
from assistant.reasoning.judges.values import Measured


def _due(result: Result, mass: Measured) -> dict[str, Value]:
    return {"due": mass.amount(number(result.answer("due"))), "outcome": str(result.answer("outcome"))}


@register(
    "charge-weighed",
    inputs={"mass": "reading", "length": "reading"},
    limits={"charge": "mass", "free_length": "length", "added_g_per_m": "count", "tolerance_percent": "percent"},
    one_of=(("charge",), ("free_length",), ("added_g_per_m",)),
    outcomes=("low", "ok", "high"),
)
def charge_weighed(case: Case) -> Judgement:
    """The charge recovered or weighed in against nameplate plus what the line's length asks for."""
    given, charge = case.given("mass", "length"), case.limit("charge", "mass")
    if given is None:
        return case.missing_reading("weight-and-length")
    free, added = case.limit("free_length", "length"), case.limit("added_g_per_m", "count")
    if charge is None or free is None or added is None:
        return case.missing_limit("charge")
    mass, length = given
    values: dict[str, Taken] = {"mass": mass, "length": length, "nameplate": charge, "free": free, "added": added}
    tolerance = case.limit_or("tolerance_percent", "percent", CHARGE_PERCENT)
    result = case.run("charge-judged", {**values, "tolerance": tolerance})
    says = message("charge-weighed", mass=mass.amount(), **_due(result, mass))
    return case.ran(result, says, limits=(charge,), quantity="percent")


@register(
    "charge-added",
    inputs={"mass": "reading", "length": "reading"},
    limits={"free_length": "length", "added_g_per_m": "count", "tolerance_percent": "percent"},
    one_of=(("free_length",), ("added_g_per_m",)),
    outcomes=("low", "ok", "high"),
)
def charge_added(case: Case) -> Judgement:
    """What was added at installation against what the line's length asks for."""
    given = case.given("mass", "length")
    if given is None:
        return case.missing_reading("weight-and-length")
    free, added = case.limit("free_length", "length"), case.limit("added_g_per_m", "count")
    if free is None or added is None:
        return case.missing_limit("added-charge")
    mass, length = given
    tolerance = case.limit_or("tolerance_percent", "percent", ADDED_PERCENT)
    values: dict[str, Taken] = {"mass": mass, "length": length, "free": free, "added": added, "tolerance": tolerance}
    result = case.run("charge-added", values)
    says = message("charge-added", mass=mass.amount(), **_due(result, mass))
    return case.ran(result, says, limits=(added,), quantity="mass")


@register(
    "nitrogen-hold",
    inputs={"start": "reading", "end": "reading", "start_air": "reading", "end_air": "reading"},
    limits={"drop_percent": "percent"},
    outcomes=("holds", "falls", "rises"),
    folds={"rises": "holds"},
)
def nitrogen_hold(case: Case) -> Judgement:
    """The pressure of a nitrogen test, less what a cooler pipe takes off it: a tight circuit keeps its density."""
    given = case.given("start", "start_air", "end", "end_air")
    if given is None:
        return case.missing_reading("pressures-and-temperatures")
    start, start_pipe, end, end_pipe = given
    limit = case.limit_or("drop_percent", "percent", ALLOWED_PERCENT)
    result = case.run(
        "nitrogen-test",
        {
            "start": start,
            "start_temperature": start_pipe,
            "now": end,
            "now_temperature": end_pipe,
            "allowed": limit,
        },
    )
    lost, allowed = number(result.answer("lost")), number(result.answer("allowed_loss"))
    outcome = str(result.answer("outcome"))
    says = message(
        "nitrogen-hold",
        moved="rose" if lost < 0 else "fell",
        lost=end.amount(abs(lost)),
        allowed=end.amount(allowed),
        outcome=outcome,
    )
    return _longer(case.ran(result, says, limits=(limit,)), message("leave-it-longer"))


def _longer(judgement: Judgement, better: Message) -> Judgement:
    """Time, not a better meter, settles what is undecided."""
    return judgement.model_copy(update={"better": better if judgement.verdict == "undecided" else ""})


@register(
    "vacuum-decay",
    inputs={"reached": "reading", "middle": "reading", "after": "reading"},
    limits={"reached": "vacuum", "risen": "vacuum", "duration": "duration"},
    one_of=(("duration",),),
    outcomes=("holds", "moisture", "leak", "not-deep"),
)
def vacuum_decay(case: Case) -> Judgement:
    """A vacuum valved off and read three times: it holds, levels off with moisture, or goes on rising with a leak.

    The limit ``duration`` is the time from the first reading to the last, the second being half way.
    """
    given = case.given("reached", "middle", "after")
    if given is None:
        return case.missing_reading("three-vacuum-readings")
    first, half, last = given
    deep, risen = case.limit_or("reached", "vacuum", DEEP_PA), case.limit_or("risen", "vacuum", RISEN_PA)
    result = case.run(
        "vacuum-test",
        {
            "start": first,
            "middle": half,
            "end": last,
            "duration": case.limit("duration", "duration"),
            "deep": deep,
            "limit": risen,
        },
    )
    row = {name: last.amount(each.number) for name, each in (("first", first), ("half", half), ("last", last))}
    says = message("vacuum-decay", **row, outcome=str(result.answer("outcome")))
    return _longer(case.ran(result, says, limits=(deep, risen)), message("leave-it-valved-off"))
