"""From answers to an outcome: the judges that checks name, and the check of those names."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from assistant.errors import LaddersideError
from assistant.language.meaning import CANONICAL_UNIT, Quantity
from assistant.language.units import UnitError
from assistant.library.models import Check, Figure
from assistant.library.profile import UnitProfile
from assistant.messages.message import message
from assistant.reasoning.errors import ReasoningError
from assistant.reasoning.judgement import Bound, Judgement
from assistant.reasoning.judges import charge, circuit, dead, findings, limits, motors, parts, sensors, supply
from assistant.reasoning.judges.case import Answer, Case
from assistant.reasoning.judges.registry import LimitQuantity, Spec, find, names, spec
from assistant.reasoning.judges.values import Shelf, known

__all__ = ["judge", "judge_problems", "names", "uses_altitude"]
#: Outcomes that only an open line on the meter brings.
_OPEN_ONLY = {name: frozenset({"open"}) for name in ("range", "at-most", "relative", "compare")}
#: Importing a module registers its judges.
MODULES = (charge, circuit, dead, findings, limits, motors, parts, sensors, supply)


def judge(
    check: Check,
    answers: Mapping[str, Answer],
    library: Shelf,
    profile: UnitProfile | None,
    altitude_m: float = 0.0,
) -> Judgement:
    """The outcome of ``check`` from its answers by question key, with computed reason and chances.

    ``altitude_m`` is that of the site, for gauge pressures; 0 where it is not known.

    A reading or figure that is missing gives an undecided judgement that says what is missing. Raises
    ReasoningError for a judge that does not exist or answers what the check does not list.
    """
    wanted = spec(check.judge.by)
    case = Case(check, answers, library, profile, wanted.folds, altitude_m)
    try:
        judgement = wanted.decide(case)
    except LaddersideError as error:
        if isinstance(error, UnitError | ReasoningError):
            raise
        judgement = case.impossible(message("numbers-do-not-fit"), error)
    return judgement.model_copy(update={"bounds": tuple(_bounds(case))})


def _bounds(case: Case) -> Iterator[Bound]:
    """The limits that the judge went by, as the record shows them."""
    for name, limit in case.used.items():
        yield Bound(
            name=name,
            value=limit.value,
            quantity=limit.quantity,
            unit=CANONICAL_UNIT[limit.quantity],
            source=limit.source,
            general=limit.general,
        )


def uses_altitude(check: Check) -> bool:
    """Whether the verdict of ``check`` hangs on the altitude: a gauge pressure is taken for an absolute one."""
    return spec(check.judge.by).absolute


def judge_problems(check: Check, library: Shelf) -> list[str]:
    """What would keep the judge of ``check`` from working, one sentence each; empty when all is well."""
    wanted = find(check.judge.by)
    if wanted is None:
        return [f"There is no judge called {check.judge.by}; there are {', '.join(names())}."]
    return [
        *_input_problems(check, wanted),
        *_limit_problems(check, wanted, library),
        *_outcome_problems(check, wanted),
    ]


def _input_problems(check: Check, wanted: Spec) -> list[str]:
    problems = []
    questions = {question.key: question for question in check.ask}
    for parameter in wanted.inputs:
        if parameter not in check.judge.inputs:
            problems.append(f"Judge {wanted.name} needs an input {parameter}.")
    if wanted.name == "compare" and not {"values", "first"} & set(check.judge.inputs):
        problems.append("Judge compare needs an input values, or first and second.")
    for parameter, key in check.judge.inputs.items():
        kind = {**wanted.inputs, **wanted.may}.get(parameter)
        question = questions.get(key)
        if kind is None:
            problems.append(f"Judge {wanted.name} knows no input {parameter}.")
        elif question is None:
            problems.append(f"Input {parameter} names the question {key}, which the check does not ask.")
        elif kind == "choice" and not question.choices:
            problems.append(f"Input {parameter} must be a choice, but question {key} has none.")
        elif kind != "choice" and question.reading is None:
            problems.append(f"Input {parameter} must be a reading, but question {key} asks for none.")
    return problems


def _limit_problems(check: Check, wanted: Spec, library: Shelf) -> list[str]:
    problems = []
    asked: list[Quantity] = [question.reading.quantity for question in check.ask if question.reading]
    for name, limit in check.judge.limits.items():
        quantity = wanted.limits.get(name)
        if quantity is None:
            problems.append(f"Judge {wanted.name} knows no limit {name}.")
            continue
        figure = limit if isinstance(limit, Figure) else limit.otherwise
        if figure is None:
            continue
        try:
            known(figure, _quantity(quantity, asked), None, library)
        except UnitError as error:
            problems.append(f"Limit {name}: {error}")
    for group in wanted.one_of:
        if not set(group) & set(check.judge.limits):
            problems.append(f"Judge {wanted.name} needs a limit {' or '.join(group)}.")
    for option in check.judge.options:
        if option not in wanted.options:
            problems.append(f"Judge {wanted.name} knows no option {option}.")
    return problems


def _quantity(limit: LimitQuantity, asked: list[Quantity]) -> Quantity:
    if limit == "same":
        return asked[0] if asked else "count"
    return limit


def _outcome_problems(check: Check, wanted: Spec) -> list[str]:
    possible = wanted.possible(check)
    listed = set(check.outcomes)
    problems = []
    if not any(question.reading and question.reading.open_line for question in check.ask):
        possible = possible - _OPEN_ONLY.get(wanted.name, frozenset())
    for outcome in sorted(possible):
        stand_in = outcome
        seen = set()
        while stand_in not in listed and stand_in in wanted.folds and stand_in not in seen:
            seen.add(stand_in)
            stand_in = wanted.folds[stand_in]
        if stand_in not in listed and not _one_sided(check, wanted, outcome):
            problems.append(f"Judge {wanted.name} may answer {outcome}, which the check does not list.")
    for outcome in sorted(listed - possible):
        problems.append(f"Outcome {outcome} is listed, but judge {wanted.name} never gives it.")
    return problems


def _one_sided(check: Check, wanted: Spec, outcome: str) -> bool:
    """With a limit on one side only, the other side's outcome cannot come."""
    limits = check.judge.limits
    if outcome == "low":
        return not {"low", "low_percent", "nominal", "tolerance_k"} & set(limits)
    if outcome == "high":
        return not {"high", "high_percent", "nominal", "tolerance_k"} & set(limits)
    return False
