"""Every id that is named must exist, every judge must fit its check, and every figure must name a source."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any, get_args

from pydantic import BaseModel

from assistant.data.yaml_lines import Path_
from assistant.library.finding import Finding, unknown
from assistant.library.loader import Library
from assistant.library.models import Check, Figure, Limit, Question, Repair, Suspect, Symptom
from assistant.library.profile import UnitProfile
from assistant.library.profile_rules import unknown_symptoms
from assistant.reasoning.judges import judge_problems


def references(library: Library) -> Iterator[Finding]:
    """Unknown ids, judges that do not fit, figures without a source."""
    for check in library.checks.values():
        yield from _of_check(check, library)
        yield from _figures(check, library)
    for suspect in library.suspects.values():
        for name, named in (("confirm", suspect.confirm), ("proof", suspect.proof)):
            yield from unknown("suspect", suspect.id, named, library.checks, "check", (name,))
        yield from unknown("suspect", suspect.id, suspect.roots, library.suspects, "suspect", ("roots",))
        precautions = suspect.repair.precautions
        in_repair = ("repair", "precautions")
        yield from unknown("suspect", suspect.id, precautions, library.precautions, "precaution", in_repair)
        yield from _things("suspect", suspect.id, suspect.repair, library, ("repair",))
        yield from _unconfirmed(suspect.id, suspect.confirm, library)
        yield from _unsplit(suspect, library)
    for symptom in library.symptoms.values():
        yield from unknown("symptom", symptom.id, symptom.shown_by, library.suspects, "suspect", ("shown_by",))
        yield from unknown("symptom", symptom.id, symptom.one_of, library.symptoms, "symptom", ("one_of",))
        yield from _answered(symptom, library)
        yield from _the_same(symptom, library)
        yield from _hazard("symptom", symptom.id, symptom.hazard, library, ("hazard",))
    for hazard in library.hazards.values():
        yield from _clearing("hazard", hazard.id, hazard.cleared_by, library, ("cleared_by",))
        yield from unknown("hazard", hazard.id, hazard.also, library.hazards, "hazard", ("also",))
        shown = (hazard.symptom,) if hazard.symptom else ()
        yield from unknown("hazard", hazard.id, shown, library.symptoms, "symptom", ("symptom",))
    sourced = (("precaution", library.precautions), ("instrument", library.instruments), ("hazard", library.hazards))
    for kind, items in sourced:
        for item in items.values():
            yield from unknown(kind, item.id, (item.source,), library.sources, "source", ("source",))
    for profile in library.profiles.values():
        yield from unknown_symptoms(profile, library.symptoms)


def _things(kind: str, item_id: str, step: Check | Repair, library: Library, path: Path_) -> Iterator[Finding]:
    """What is taken off and put back must be told in ``taken-off.yaml``."""
    for field in ("takes_off", "puts_back", "with_off"):
        named = getattr(step, field, ())
        yield from unknown(kind, item_id, named, library.things, "thing taken off", (*path, field))


def _hazard(kind: str, item_id: str, hazard: str | None, library: Library, path: Path_) -> Iterator[Finding]:
    yield from unknown(kind, item_id, (hazard,) if hazard else (), library.hazards, "hazard", path)


def _clearing(
    kind: str, item_id: str, cleared_by: Mapping[str, Iterable[str]], library: Library, path: Path_
) -> Iterator[Finding]:
    """The checks and outcomes that clear a hazard must be there."""
    yield from unknown(kind, item_id, cleared_by, library.checks, "check", path)
    for check, outcomes in cleared_by.items():
        if check in library.checks:
            named = f"outcome of “{check}”"
            yield from unknown(kind, item_id, outcomes, library.checks[check].outcomes, named, (*path, check))


def _answered(symptom: Symptom, library: Library) -> Iterator[Finding]:
    """What a symptom answers must be there, and confirm no suspect by its outcome: such a check is always done."""
    yield from unknown("symptom", symptom.id, symptom.answers, library.checks, "check", ("answers",))
    confirming = {
        (check, outcome)
        for suspect in library.suspects.values()
        for check in suspect.confirm
        if check in library.checks
        for outcome in _outcomes_for(library.checks[check], suspect.id)
    }
    for name, outcome in symptom.answers.items():
        path: Path_ = ("answers", name)
        if name in library.checks:
            named = f"outcome of “{name}”"
            yield from unknown("symptom", symptom.id, (outcome,), library.checks[name].outcomes, named, path)
        if (name, outcome) in confirming:
            what = f"it answers “{name}”, which confirms a suspect and must be done"
            yield Finding("symptom", symptom.id, what, "leave it out of answers", path)


def _outcomes_for(check: Check, suspect: str) -> list[str]:
    """The outcomes of a check that are likelier with this suspect than with one that it does not name."""
    told = check.tells.get(suspect, check.otherwise)
    return [name for name in check.outcomes if told.get(name, 0.0) > check.otherwise.get(name, 0.0)]


def _the_same(symptom: Symptom, library: Library) -> Iterator[Finding]:
    """What is the same as a symptom must be an answer to a question that is there."""
    questions = {f"{check.id}.{one.key}": one for check in library.checks.values() for one in check.ask}
    yield from unknown("symptom", symptom.id, symptom.same_as, questions, "question", ("same_as",))
    for name, choice in symptom.same_as.items():
        if name in questions:
            choices = {one.id: one for one in questions[name].choices}
            yield from unknown("symptom", symptom.id, (choice,), choices, f"answer to “{name}”", ("same_as", name))


def _of_check(check: Check, library: Library) -> Iterator[Finding]:
    checks, outcomes = library.checks, check.outcomes
    yield from unknown("check", check.id, check.precautions, library.precautions, "precaution", ("precautions",))
    yield from unknown("check", check.id, check.after, checks, "check", ("after",))
    yield from unknown("check", check.id, check.only_if, checks, "check", ("only_if",))
    for before, wanted in check.only_if.items():
        if before in checks:
            named = f"outcome of “{before}”"
            yield from unknown("check", check.id, wanted, checks[before].outcomes, named, ("only_if", before))
    yield from unknown("check", check.id, check.follow_up.values(), checks, "check", ("follow_up",))
    yield from unknown("check", check.id, check.with_symptoms, library.symptoms, "symptom", ("with_symptoms",))
    for field in ("follow_up", "sets_energy"):
        yield from unknown("check", check.id, getattr(check, field), outcomes, "outcome of this check", (field,))
    yield from _things("check", check.id, check, library, ())
    for key, outcome in check.outcomes.items():
        yield from _hazard("check", check.id, outcome.hazard, library, ("outcomes", key, "hazard"))
        yield from _clearing("check", check.id, outcome.cleared_by, library, ("outcomes", key, "cleared_by"))
        amounts = (outcome.shows,) if outcome.shows else ()
        yield from unknown("check", check.id, amounts, library.symptoms, "symptom", ("outcomes", key, "shows"))
    yield from unknown("check", check.id, check.tells, library.suspects, "suspect", ("tells",))
    for place, question in enumerate(check.ask):
        if question.reading is not None:
            path: Path_ = ("ask", place, "reading", "instrument")
            instrument = (question.reading.instrument,)
            yield from unknown("check", check.id, instrument, library.instruments, "instrument", path)
        if question.repeats:
            yield from _repeats(check.id, place, question, library)
        if (question.reading is not None) + bool(question.choices) + question.text != 1:
            what = f"question “{question.key}” must have exactly one of reading, choices and text"
            yield Finding("check", check.id, what, "keep the one that is meant", ("ask", place))
    for problem in judge_problems(check, library):
        yield Finding("check", check.id, problem.rstrip("."), "correct the judge or its check", ("judge",))


def _repeats(check_id: str, place: int, question: Question, library: Library) -> Iterator[Finding]:
    """What reads the same thing must be there, and read the same quantity."""
    other, _, key = question.repeats.partition(".")
    asked = library.checks[other].ask if other in library.checks else ()
    same = next((one.reading for one in asked if one.key == key), None)
    if same is None or question.reading is None or same.quantity != question.reading.quantity:
        what = f"question “{question.key}” repeats “{question.repeats}”, which reads nothing of the kind"
        yield Finding("check", check_id, what, "name check and question that read the same", ("ask", place, "repeats"))


def _unsplit(suspect: Suspect, library: Library) -> Iterator[Finding]:
    """Outcomes of a split that its check cannot have: the suspect could never be named."""
    for name, outcomes in suspect.split.items():
        check = library.checks.get(name)
        strange = [outcome for outcome in outcomes if check is not None and outcome not in check.outcomes]
        if strange:
            what = f"its split wants “{strange[0]}” of “{name}”, which that cannot answer"
            yield Finding("suspect", suspect.id, what, "correct the outcome", ("split", name))


def _unconfirmed(suspect_id: str, confirm: Iterable[str], library: Library) -> Iterator[Finding]:
    for name in confirm:
        check = library.checks.get(name)
        if check is not None and suspect_id not in check.tells:
            what = f"“{name}” is to confirm it but gives no chances for it"
            yield Finding("suspect", suspect_id, what, f"add “{suspect_id}” to the tells of “{name}”", ("confirm",))


def _figures(check: Check, library: Library) -> Iterator[Finding]:
    for name, limit in check.judge.limits.items():
        path = ("judge", "limits", name)
        figure = _figure(limit)
        if figure is not None:
            yield from unknown("check", check.id, (figure.source,), library.sources, "source", path)
        if not isinstance(limit, Figure) and not _in_profile(limit.profile.split(".")):
            what = f"limit {name}: no profile has “{limit.profile}”"
            yield Finding("check", check.id, what, "correct the path; assistant/library/profile.py lists them", path)
    for name, value in check.judge.options.items():
        if isinstance(value, int | float) and not isinstance(value, bool):
            what = f"option {name} is a number without a source"
            yield Finding("check", check.id, what, "make it a limit with unit and source", ("judge", "options", name))


def _figure(limit: Limit) -> Figure | None:
    return limit if isinstance(limit, Figure) else limit.otherwise


def _in_profile(steps: list[str]) -> bool:
    """Whether a dotted path leads to something that a unit profile can hold."""
    kind: Any = UnitProfile
    for step in steps:
        model = next((arg for arg in (kind, *get_args(kind)) if _is_model(arg)), None)
        if model is not None and step in model.model_fields:
            kind = model.model_fields[step].annotation
        elif step.isdigit() and not _is_model(kind):
            kind = (get_args(kind) or (None,))[0]
        elif model is None and get_args(kind):  # a mapping: any key, then its value
            kind = get_args(kind)[-1]
        else:
            return False
    return True


def _is_model(kind: Any) -> bool:
    return isinstance(kind, type) and issubclass(kind, BaseModel)
