"""A calculation worked out as an engineer would write it: formula, numbers, results with ±, sources."""

from __future__ import annotations

import math
from collections.abc import Mapping
from string import Formatter

from assistant.calculations import instruments, units
from assistant.calculations.entry import Answer, Calculation, Parameter, Result, Value, shown
from assistant.calculations.errors import CalculationError, OutOfRange
from assistant.calculations.found import Found, source_of
from assistant.calculations.uncertainty import Metered, better_reading, combined, errors_of


def worked_out(calculation: Calculation, taken: Mapping[str, Value], given: Mapping[str, Value]) -> Result:
    """Run ``calculation`` with the values ``taken`` (defaults filled in, readings metered), of which some were given.

    Raises what the calculation raises, and OutOfRange for a result that is no finite number.
    """
    found: Found | None = None
    made: Mapping[str, Value]
    if calculation.judges:
        judged = calculation.compute(**taken)
        assert isinstance(judged, Found)
        found, made, widths = judged, _judged(calculation, judged), _widths_found(calculation, judged)
    else:
        made = _plain(calculation, taken)
        widths = _widths(calculation, taken, made)
    answers = tuple(
        Answer(o.name, o.about, o.quantity, _finite(o.about, made.get(o.name)), o.in_source, widths.get(o.name))
        for o in calculation.outputs
    )
    texts = {p.name: shown(p.quantity, taken[p.name]) for p in calculation.parameters}
    texts |= {a.name: a.text for a in answers}
    numbers = "; ".join([_filled(calculation.numbers, texts), *_also(calculation, taken, given)])
    sources = [_filled(calculation.source, texts), *_limit_sources(calculation, taken)]
    if found is None and any(width for width in widths.values()):
        sources.append(_instruments(calculation, taken))
    return Result(
        calculation.name, answers, calculation.formula, numbers, "; ".join(dict.fromkeys(filter(None, sources))), found
    )


def _number(value: Value) -> Value:
    return value.value if isinstance(value, Metered) else value


def _plain(calculation: Calculation, taken: Mapping[str, Value]) -> Mapping[str, Value]:
    made = calculation.compute(**{name: _number(value) for name, value in taken.items()})
    assert not isinstance(made, Found)
    return made


def _judged(calculation: Calculation, found: Found) -> dict[str, Value]:
    """What every judgement gives beside its own values."""
    against = found.against
    unit = next((o.quantity for o in calculation.outputs if o.name == "margin"), "count")
    return {
        "outcome": found.outcome,
        "verdict": found.verdict,
        "chance": 100 * found.chances[found.outcome],
        "margin": against.margin if against else None,
        "uncertainty": against.expanded if against else None,
        "places": ", ".join(found.places) or "none",
        "better": found.better
        or (_better(found, unit) if found.verdict == "undecided" else "")
        or "nothing more is needed",
        **found.values,
    }


def _better(found: Found, quantity: str) -> str:
    if found.against is None or found.against.verdict != "undecided":
        return "another look, or another instrument"
    return better_reading(found.against, _unit(quantity))


def _unit(quantity: str) -> str:
    """How the unit of a quantity, or of a difference of two, is written after a bare number."""
    inside = units.QUANTITIES.get(quantity, "")
    return {"degC": "K", "uF": "µF", "1": ""}.get(inside, inside)


def _widths_found(calculation: Calculation, found: Found) -> dict[str, float]:
    """The number that a judgement was made on is the output of the same quantity as its margin that comes first."""
    if found.against is None:
        return {}
    margin = next((o.quantity for o in calculation.outputs if o.name == "margin"), "")
    kinds = {margin, _LEVEL_OF.get(margin, margin)}
    name = next((o.name for o in calculation.outputs if o.quantity in kinds and o.name not in _OF_LIMITS), "")
    return {name: found.against.expanded} if name in found.values else {}


#: What is no number that a judgement is made on, but beside it.
_OF_LIMITS = {"margin", "uncertainty", "low", "high", "expected", "peak", "opens_at", "closes_at"}
#: A distance from a limit, and what has the limit.
_LEVEL_OF = {"temperature_difference": "temperature"}


def _widths(calculation: Calculation, taken: Mapping[str, Value], made: Mapping[str, Value]) -> dict[str, float]:
    """95 % uncertainty of each numeric output from the instruments of the readings (GUM 5.1.3)."""
    readings = {name: value for name, value in taken.items() if isinstance(value, Metered) and not value.open}
    if not readings:
        return {}
    names = list(readings)
    parts: dict[str, list[float]] = {}
    try:
        for row in errors_of([readings[name] for name in names]):
            for side in (1, -1):
                shifted = {n: readings[n].value + side * s for n, s in zip(names, row, strict=True)}
                for name, value in _plain(calculation, {**taken, **shifted}).items():
                    here = made[name]
                    if isinstance(value, float | int) and isinstance(here, float | int):
                        parts.setdefault(name, []).append(abs(value - here))
    except CalculationError:
        return {}  # an end of a table or range lies within the uncertainty
    numeric = {o.name for o in calculation.outputs if o.quantity != "word"}
    widths = {
        name: combined([max(pair) for pair in zip(changes[::2], changes[1::2], strict=True)])
        for name, changes in parts.items()
        if name in numeric and all(math.isfinite(c) for c in changes)
    }
    return {name: width for name, width in widths.items() if width > 0}


def _instruments(calculation: Calculation, taken: Mapping[str, Value]) -> str:
    used = dict.fromkeys(
        instruments.USUAL[p.instrument].name
        for p in calculation.parameters
        if p.instrument and isinstance(taken[p.name], Metered)
    )
    return f"± with a usual {', '.join(used)}"


def _also(calculation: Calculation, taken: Mapping[str, Value], given: Mapping[str, Value]) -> list[str]:
    """What was given, or stands for what was not, and is not in the numbers yet: all that changed the result."""
    there = {name for _, name, _, _ in Formatter().parse(calculation.numbers) if name}
    accuracies = {p.accuracy for p in calculation.parameters if p.accuracy}
    texts = []
    for p in calculation.parameters:
        value = taken[p.name]
        if (
            p.name in there
            or value is None
            or _idle(p, taken)
            or any(p.name == a or p.name.startswith(f"{a}_") for a in accuracies)
        ):
            continue
        if given.get(p.name) is not None or _number(value) != 0:
            texts.append(f"{p.about} {shown(p.quantity, value)}")
    return texts


def _idle(parameter: Parameter, taken: Mapping[str, Value]) -> bool:
    """Whether the value that this one belongs to was not given."""
    return bool(parameter.belongs_to) and taken[parameter.belongs_to] is None


def _limit_sources(calculation: Calculation, taken: Mapping[str, Value]) -> list[str]:
    """Each limit's own source, once; several limits of one source are named together."""
    by_source: dict[str, list[str]] = {}
    for p in calculation.parameters:
        value = taken[p.name]
        if _idle(p, taken):
            continue
        if source := source_of(value) if isinstance(value, float) else "":
            by_source.setdefault(source, []).append(p.about)
    return [f"{', '.join(names)}: {source}" for source, names in by_source.items()]


def _finite(about: str, value: Value) -> Value:
    """Numbers as floats; one that is NaN or infinite is refused as out of range, never answered."""
    if value is None or isinstance(value, (str, tuple, Metered)):
        return value
    if not math.isfinite(value):
        raise OutOfRange(about, value, -1e30, 1e30, "")
    return float(value)


def _filled(template: str, texts: Mapping[str, str]) -> str:
    """The template with the texts put in; only its own fields are touched."""
    parts = []
    for literal, name, _, _ in Formatter().parse(template):
        parts.append(literal + (texts[name] if name else ""))
    return "".join(parts)
