"""What the calculations allow, take for granted, answer and judge, read off them into four tables beside this file.

``python -m tests.calculations.pins`` writes them anew after a change that was meant, with names of calculations after
it only theirs; the difference shows what it did.
They are no outside check (those are in ``tests/reference``): they hold every range, default, answer and threshold to
where somebody decided it to be, and so find the slip that no published value happens to meet.
"""

from __future__ import annotations

import csv
import itertools
import math
import sys
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path

from assistant.calculations import catalogue
from assistant.calculations.entry import WORD, Calculation, Parameter, Value
from assistant.calculations.errors import CalculationError, OutOfRange
from assistant.calculations.uncertainty import LARGEST
from tests.calculations.checks import rows
from tests.calculations.test_properties import example_of

FOLDER = Path(__file__).parent
#: Beyond what any calculation allows, from near to far: the far ones are refused for being no numbers of this world.
FAR = (1e4, 1e7, 1e12)
#: What one value of an example is changed to, times itself; a temperature by as many kelvin.
FACTORS, KELVIN = (0.6, 1.2, 3.0), (-12.0, 3.0)
#: Where a verdict is looked for between nothing and far too much, times the example's value.
STEPS = (0.01, 0.1, 0.3, 0.6, 0.8, 0.9, 0.97, 1.0, 1.03, 1.1, 1.2, 1.4, 1.8, 3.0, 6.0, 12.0, 50.0)
KELVIN_STEPS = (-60.0, -30.0, -15.0, -8.0, -4.0, -2.0, 0.0, 2.0, 4.0, 8.0, 15.0, 30.0, 60.0)
#: How near to where a verdict turns both sides are tried.
NEAR = 2e-3

Row = tuple[str, ...]
HEADS: dict[str, Row] = {
    "ranges": ("calculation", "input", "low", "high", "unit"),
    "defaults": ("calculation", "input", "value", "unit"),
    "answers": ("calculation", "changed", "answers"),
    "turns": ("calculation", "changed", "input", "at", "unit", "below", "above"),
}


def numbers_of(calculation: Calculation) -> Iterator[Parameter]:
    """Its inputs that are numbers."""
    return (parameter for parameter in calculation.parameters if parameter.unit)


def refusal(calculation: Calculation, name: str, value: float) -> OutOfRange | None:
    """The refusal of a value for its size, given beside an example that works; None when it is taken."""
    try:
        catalogue.run(calculation.name, {**situations(calculation)[0], name: value})
    except OutOfRange as error:
        return error if error.value == value else None
    except CalculationError:
        return None
    return None


def is_limit(calculation: Calculation, name: str, low: float, high: float) -> Iterator[bool]:
    """Whether values just inside of both ends are taken, and those just outside refused for just these ends."""
    for limit, sign in ((low, -1), (high, 1)):
        beside = sign * max(1e-6, abs(limit) * 1e-6)
        refused = refusal(calculation, name, limit + beside)
        told = None if refused is None else refused.low if sign < 0 else refused.high
        yield refusal(calculation, name, limit - beside) is None
        yield told is not None and math.isclose(told, limit, rel_tol=1e-8)


def ranges(calculation: Calculation) -> Iterator[Row]:
    """The lowest and the highest value of every input that has a range of its own."""
    for parameter in numbers_of(calculation):
        found = [refusal(calculation, parameter.name, sign * far) for sign in (1, -1) for far in FAR]
        limits = {(error.low, error.high) for error in found if error is not None and abs(error.high) < LARGEST}
        if len(limits) == 1:
            (low, high), *_ = limits
            if not all(is_limit(calculation, parameter.name, low, high)):  # beside another input's, say
                continue
            yield calculation.name, parameter.name, f"{low:.9g}", f"{high:.9g}", parameter.unit


def defaults(calculation: Calculation) -> Iterator[Row]:
    """What is taken for every number that is not given."""
    for parameter in numbers_of(calculation):
        if isinstance(parameter.default, float | int):
            yield calculation.name, parameter.name, f"{parameter.default:.6g}", parameter.unit


def situations(calculation: Calculation) -> list[dict[str, Value]]:
    """What it is asked: ``situations.txt``, and the first reference row where there is one."""
    asked = [catalogue.read(name, dict(part.split("=", 1) for part in given.split("; ")))
             for name, given in _situations() if name == calculation.name]  # fmt: skip
    own = any(row.calculation == calculation.name for row in rows())
    return [example_of(calculation), *asked] if own or not asked else asked


@cache
def _situations() -> list[tuple[str, str]]:
    lines = (FOLDER / "situations.txt").read_text(encoding="utf-8").splitlines()
    return [(name, given) for name, _, given in (line.partition(" ") for line in lines if not line.startswith("#"))]


def worded(calculation: Calculation) -> Iterator[tuple[str, dict[str, Value]]]:
    """Each situation with its number, and the same with each word changed to every other that may be given."""
    for number, asked in enumerate(situations(calculation), 1):
        yield f"{number}", asked
        for parameter in calculation.parameters:
            if parameter.quantity == WORD:
                for choice in parameter.choices:
                    if choice != asked.get(parameter.name, parameter.default):
                        yield f"{number} {parameter.name}={choice}", {**asked, parameter.name: choice}


def changed(calculation: Calculation) -> Iterator[tuple[str, dict[str, Value]]]:
    """The situations, with each word or number changed, one at a time."""
    yield from worded(calculation)
    for at, asked in enumerate(situations(calculation), 1):
        for parameter in numbers_of(calculation):
            value = asked.get(parameter.name, parameter.default)
            if isinstance(value, float | int) and math.isfinite(value):
                for new in _around(parameter, float(value), FACTORS, KELVIN):
                    yield f"{at} {parameter.name}={new:.6g}", {**asked, parameter.name: float(f"{new:.6g}")}


def _around(parameter: Parameter, value: float, factors: Iterable[float], kelvin: Iterable[float]) -> list[float]:
    if parameter.quantity == "temperature":
        return [value + each for each in kelvin]
    return [(value or 1.0) * each for each in factors]


def told(calculation: Calculation, values: Mapping[str, Value]) -> str:
    """Every answer with its uncertainty and every chance; or how it is refused."""
    try:
        result = catalogue.run(calculation.name, values)
    except CalculationError as error:
        return type(error).__name__
    if result.found is None:
        parts = [f"{answer.name} {_figure(answer.value)}{_width(answer.expanded)}" for answer in result.answers]
    else:
        found = result.found
        width = None if found.against is None else found.against.expanded
        parts = [" ".join([found.outcome, f"{found.verdict}{_width(width)}", *found.places])]
        parts += [f"P({name}) {chance:.2f}" for name, chance in found.chances.items() if chance >= 0.005]
        parts += [f"{name} {_figure(value)}" for name, value in found.values.items()]
    return "; ".join(parts)


#: What is left of rounding, of which each processor has its own.
_NOTHING = 1e-9


def _figure(value: Value) -> str:
    if not isinstance(value, float):
        return str(value)
    return f"{value:.4g}" if abs(value) >= _NOTHING else "0"


def _width(expanded: float | None) -> str:
    if expanded is None:
        return ""
    return f" ± {expanded:.3g}" if abs(expanded) >= _NOTHING else " ± 0"


def answers(calculation: Calculation) -> Iterator[Row]:
    """What a calculation answers to its example and to what is near it."""
    for what, values in changed(calculation):
        yield calculation.name, what, answer(calculation, what, values)


def answer(calculation: Calculation, what: str, values: Mapping[str, Value]) -> str:
    """``told``, and for a situation itself also what is shown of it."""
    if not what.isdigit():
        return told(calculation, values)
    try:
        result = catalogue.run(calculation.name, values)
    except CalculationError as error:
        return str(error)
    shown = ", ".join(each.name for each in result.answers if not each.in_source)
    return f"{told(calculation, values)} | {result.numbers} | {shown}"


def outcome(calculation: Calculation, values: Mapping[str, Value]) -> str:
    """What a judgement calls it; "" where it is refused or judges nothing."""
    try:
        found = catalogue.run(calculation.name, values).found
    except CalculationError:
        return ""
    return "" if found is None else found.outcome


def turns(calculation: Calculation) -> Iterator[Row]:
    """Every value of every reading at which a judgement turns from one outcome to another."""
    if not calculation.judges:
        return
    for what, values in worded(calculation):
        if "=" in what and len(situations(calculation)) > 1:
            continue
        for parameter in numbers_of(calculation):
            yield from _turns(calculation, what, values, parameter)


def _turns(calculation: Calculation, what: str, values: Mapping[str, Value], parameter: Parameter) -> Iterator[Row]:
    value = values.get(parameter.name, parameter.default)
    if not isinstance(value, float | int) or not math.isfinite(value):
        return

    def at(number: float) -> str:
        return outcome(calculation, {**values, parameter.name: number})

    places = sorted(_around(parameter, float(value), STEPS, KELVIN_STEPS))
    for low, high in itertools.pairwise(places):
        before, after = at(low), at(high)
        if not before or not after or before == after:
            continue
        below, above = low, high
        while above - below > 1e-4 * max(abs(above), abs(below)) and at((below + above) / 2):
            middle = (below + above) / 2
            below, above = (middle, above) if at(middle) == before else (below, middle)
        if at(above) != before and at(above):
            place = f"{(below + above) / 2:.5g}"
            if beside(at, float(place)) == (before, at(above)):  # no third outcome lies between
                yield calculation.name, what, parameter.name, place, parameter.unit, before, at(above)


def beside(at: Callable[[float], str], place: float) -> tuple[str, str]:
    """The outcomes just below and just above a place."""
    step = max(abs(place) * NEAR, 1e-3)
    return at(place - step), at(place + step)


def table(name: str) -> list[dict[str, str]]:
    """The rows of one of the tables."""
    with (FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def write(names: Collection[str]) -> None:
    """Write all four tables, or of these calculations only what they say."""
    made = {"ranges": ranges, "defaults": defaults, "answers": answers, "turns": turns}
    for name, rows_of in made.items():
        kept: dict[str, list[Row]] = {}
        for row in table(name):
            kept.setdefault(row["calculation"], []).append(tuple(row.values()))
        every: list[Row] = []
        for calculation in catalogue.CATALOGUE.values():
            anew = not names or calculation.name in names
            every += rows_of(calculation) if anew else kept.get(calculation.name, [])
        with (FOLDER / f"{name}.csv").open("w", encoding="utf-8", newline="") as file:
            out = csv.writer(file, lineterminator="\n")
            out.writerow(HEADS[name])
            out.writerows(every)


if __name__ == "__main__":
    write(sys.argv[1:])
