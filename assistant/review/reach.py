"""Everything that is written must be able to come up in a visit: checks asked, suspects raised, cautions spoken."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.library.demand import cautions_of
from assistant.library.finding import Finding
from assistant.library.loader import Library
from assistant.library.models import AFTER_ANY_REPAIR, PROCEDURES, Check
from assistant.review.units import Unit, units


def unreachable(library: Library) -> Iterator[Finding]:
    """Checks, suspects and precautions that no visit can come to."""
    met = units(library)
    asked = {check_id for unit in met for check_id in _asked(unit, library)}
    for check in library.checks.values():
        if check.id not in asked:
            yield Finding("check", check.id, f"no visit comes to it: {_why_not(check, met, library)}", _REMEDY)
    for suspect in library.suspects.values():
        if not any(suspect in unit.suspects for unit in met):
            what = f"no unit can have it: none has {_list(suspect.needs)}"
            yield Finding("suspect", suspect.id, what, "add the feature to a profile or correct needs", ("needs",))
        elif not any(suspect.id in symptom.shown_by for symptom in library.symptoms.values()):
            yield Finding("suspect", suspect.id, "no symptom shows it", "add it to shown_by of a symptom")
    yield from _unspoken(library, met, asked)


_REMEDY = "let it tell a suspect, confirm or prove one, or remove it"


def _asked(unit: Unit, library: Library) -> set[str]:
    """The checks that a visit to this unit can come to."""
    there = {check.id: check for check in unit.checks}
    suspects = {suspect.id for suspect in unit.suspects}
    wanted = {check.id for check in unit.checks if suspects.intersection(check.tells)}
    wanted |= {check.id for check in unit.checks if library.system_of[check.id] == PROCEDURES}
    wanted |= {check.id for check in unit.checks if library.system_of[check.id] == AFTER_ANY_REPAIR}
    wanted |= _on_a_course(unit, library)
    wanted |= {check for suspect in unit.suspects for check in (*suspect.confirm, *suspect.proof)}
    reached: set[str] = set()
    while wanted:
        check = there.get(wanted.pop())
        if check is None or check.id in reached or not _steps_there(check, there, set()):
            continue
        reached.add(check.id)
        wanted |= {*check.after, *check.only_if, *check.follow_up.values()} - reached
    return reached


def _on_a_course(unit: Unit, library: Library) -> set[str]:
    steps = [step for course in library.courses.values() for step in course.steps]
    named = {check for step in steps for check in (step.check, *step.if_fails)}
    return {check.id for check in unit.checks if check.id in named}


def _steps_there(check: Check, there: dict[str, Check], above: set[str]) -> bool:
    """Whether all that must come before ``check`` can be done on this unit, without going in a circle."""
    if check.id in above:
        return False
    before = (*check.after, *check.only_if)
    return all(step in there and _steps_there(there[step], there, above | {check.id}) for step in before)


def _why_not(check: Check, met: list[Unit], library: Library) -> str:
    able = [unit for unit in met if unit.features.issuperset(check.needs)]
    if not able:
        return f"no unit has {_list(check.needs)}"
    for unit in able:
        there = {item.id: item for item in unit.checks}
        if not _steps_there(check, there, set()):
            before = [step for step in (*check.after, *check.only_if) if step not in there]
            return f"it comes after {_list(before)}, which is not there" if before else "it comes after itself"
    return "it tells of no suspect, confirms none and proves none"


def _unspoken(library: Library, met: list[Unit], asked: set[str]) -> Iterator[Finding]:
    named = {precaution for check_id in asked for precaution in cautions_of(library.checks[check_id], library)}
    named |= {precaution for item in library.suspects.values() for precaution in cautions_of(item.repair, library)}
    named |= {*library.opening, *(item.caution for item in library.instruments.values() if item.caution)}
    for precaution in library.precautions.values():
        if precaution.id not in named:
            what = "no check and no repair speaks it"
            yield Finding("precaution", precaution.id, what, "name it where it protects, or remove it")
        elif not any(unit.features.issuperset(precaution.needs) for unit in met):
            what = f"no unit has {_list(precaution.needs)}, so it is never spoken"
            yield Finding("precaution", precaution.id, what, "correct needs", ("needs",))


def _list(words: tuple[str, ...] | list[str]) -> str:
    return ", ".join(f"“{word}”" for word in words) or "it"
