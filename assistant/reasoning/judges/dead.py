"""The judge of absent voltage. Dead is only what a good meter read safely under the limit; every doubt is alive."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.calculations.bus_judging import judge_absent
from assistant.calculations.uncertainty import GUM
from assistant.language.meaning import Quantity
from assistant.library.bounds import AC_AT_MOST_V, DEAD_AT_MOST_V
from assistant.library.models import Check
from assistant.messages.catalogue import plain
from assistant.messages.message import Amount, Message, Value, message
from assistant.reasoning.judgement import Judgement, Working
from assistant.reasoning.judges.case import Case, sum_of
from assistant.reasoning.judges.limits import number
from assistant.reasoning.judges.registry import register
from assistant.reasoning.judges.values import Known


def _outcomes(check: Check) -> set[str]:
    """What it can answer follows from what it is given."""
    inputs = set(check.judge.inputs)
    named = {"mains": "fed", "stored": "charged", "tried": "untried"}
    return {"dead"} | {outcome for parameter, outcome in named.items() if parameter in inputs}


@register(
    "no-voltage",
    inputs={},
    may={"mains": "readings", "stored": "readings", "tried": "choice"},
    limits={"mains_below": "voltage_ac", "stored_below": "voltage_dc"},
    outcomes_of=_outcomes,
)
def no_voltage(case: Case) -> Judgement:
    """Mains between conductors and to earth, and stored charge (capacitors in series added), each under its limit.

    ``tried`` is the meter tried again on a live source: "no" means that nothing was shown at all.
    """
    mains = _over(case, "mains", "mains_below", AC_AT_MOST_V)
    if mains is not None and mains.over:
        return _alive(case, "fed", message("still-fed", volts=mains.volts), mains)
    stored = _over(case, "stored", "stored_below", DEAD_AT_MOST_V)
    if stored is not None and stored.over:
        return _alive(case, "charged", message("still-charged", volts=stored.volts), stored)
    if "tried" in case.check.judge.inputs and case.choice("tried") != "yes":
        return _alive(case, "untried", message("nothing-shown"), None)
    found = [item for item in (mains, stored) if item is not None]
    says = message("absent", what=found[0].name if len(found) == 1 else "both")
    return case.judged({"dead": 1.0}, says, [item.working for item in found], outcome="dead")


@dataclass(frozen=True)
class _Found:
    """One kind of voltage against its limit; ``over``: not safely under it, or not read at all."""

    name: str
    volts: Value
    over: bool
    working: Working


def _over(case: Case, parameter: str, limit_name: str, ceiling: float) -> _Found | None:
    if parameter not in case.check.judge.inputs:
        return None
    readings = case.readings(parameter)
    quantity: Quantity = "voltage_ac" if parameter == "mains" else "voltage_dc"
    known = case.limit(limit_name, quantity)
    limit = ceiling if known is None else min(known.value, ceiling)
    name = "mains" if parameter == "mains" else "charge"
    if not readings or any(reading.value is None for reading in readings):
        working = sum_of("|V| + U ≤ limit", "no number", "not shown", _source(known))
        return _Found(name, message("no-voltage-read"), True, working)
    found = judge_absent([reading.metered for reading in readings], limit, in_series=parameter == "stored")
    over, volts = found.outcome != "dead", number(found.values["size"])
    working = sum_of(
        "|V| + U ≤ limit",
        f"{plain(volts)} + {plain(found.against.expanded if found.against else 0.0)} V, limit {plain(limit)} V",
        "still there" if over else "absent",
        f"{_source(known)}; {GUM}",
    )
    return _Found(name, Amount(quantity=quantity, value=volts, unit="V"), over, working)


def _source(known: Known | None) -> str:
    return known.source if known is not None else "IEC 60364-4-41 (from memory)"


def _alive(case: Case, outcome: str, says: Message, found: _Found | None) -> Judgement:
    working = [found.working] if found is not None else []
    return case.judged({outcome: 1.0}, says, working, outcome=outcome)
