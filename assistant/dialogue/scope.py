"""What words may mean in a state of the visit: the open question, and every check's questions that may be told of."""

from __future__ import annotations

from functools import lru_cache

from assistant.dialogue.asking import beneath_confirmation, expectation, question_expectation
from assistant.dialogue.nameable import components, indications
from assistant.dialogue.state import Stage, VisitState
from assistant.dialogue.units import zone_choices
from assistant.language.meaning import Choice, Expectation
from assistant.language.scope import Called, Scope, Tellable
from assistant.language.written import tokens
from assistant.library.demand import procedures
from assistant.library.loader import Library
from assistant.library.models import AFTER_ANY_REPAIR, Check
from assistant.library.profile import UnitProfile

#: Names the state in which the unit's behaviour is asked, and a state in which nothing is.
INDICATION, ANY = "visit.indication", "any"


def scope(state: VisitState, library: Library, profile: UnitProfile | None) -> Scope:
    """All that may be said in this state of the visit."""
    told, following = tellable(library), _following(state, library)
    shown = indications(library, profile)[: len(profile.indications)] if profile else ()
    beneath = beneath_confirmation(state, library, profile)
    return Scope(
        expectation(state, library, profile),
        told,
        following,
        Scope(beneath, told, following, shown=shown) if beneath is not None else None,
        shown,
        _others(state, profile),
        _complaint(library, profile, shown) if state.stage in _BEFORE and state.run is None else None,
    )


def _others(state: VisitState, profile: UnitProfile | None) -> tuple[Choice, ...]:
    """The indoor units by their names, once one of several was named."""
    zones = zone_choices(profile)
    return zones if state.zone is not None and len(zones) > 1 else ()


#: What the unit does is often said while it is being named.
_BEFORE = (Stage.PROFILE, Stage.SUPPLY, Stage.REFRIGERANT, Stage.ZONE)


def _complaint(library: Library, profile: UnitProfile | None, shown: tuple[Choice, ...]) -> Scope:
    choices = indications(library, profile)
    asked = Expectation(question=INDICATION, choices=choices, choice_kind="indication", checks=components(library))
    return Scope(asked, tellable(library), shown=shown)


def scope_at(key: str, library: Library) -> Scope | None:
    """All that may be said when the question ``key`` is open; None when there is no such question."""
    if key == ANY:
        return Scope(Expectation(question=ANY, checks=components(library)), tellable(library))
    if key == INDICATION:
        return _complaint(library, None, ())
    check_id, _, question = key.partition(".")
    check = library.checks.get(check_id)
    if check is None or all(one.key != question for one in check.ask):
        return None
    asked = question_expectation(check, next(one for one in check.ask if one.key == question))
    asked = asked.model_copy(update={"checks": components(library)})
    return Scope(asked, tellable(library), _after(check, question))


@lru_cache(maxsize=4)
def tellable(library: Library) -> Tellable:
    """Everything that may be told unasked: never of the energy state, and no proof of a repair."""
    asked = (
        question_expectation(check, question)
        for check in library.checks.values()
        if check.id not in procedures(library)
        for question in check.ask
    )
    return Tellable(
        {one.question: one for one in asked},
        indications(library, None),
        _trade_words(library),
        _called(library),
        frozenset(
            f"{check.id}.{one.key}"
            for check in library.checks.values()
            for at, one in enumerate(check.ask)
            if is_proof(check, library) or (at and {choice.id for choice in one.choices} == {"yes", "no"})
        ),
        _twins(library),
        {symptom.id: frozenset(symptom.one_of) for symptom in library.symptoms.values() if symptom.one_of},
    )


def _twins(library: Library) -> dict[str, frozenset[str]]:
    """Symptoms and findings that are the very same, by their keys."""
    found: dict[str, frozenset[str]] = {}
    for symptom in library.symptoms.values():
        alike = {f"indication:{symptom.id}", *(f"{key}=choice:{one}" for key, one in symptom.same_as.items())}
        found |= {key: frozenset(alike - {key}) for key in alike if len(alike) > 1}
    return found


def is_proof(check: Check, library: Library) -> bool:
    """Whether a check stands at the end of every repair, whatever was mended."""
    return library.system_of.get(check.id) == AFTER_ANY_REPAIR


def _called(library: Library) -> dict[str, Called]:
    """Every question by what its check is called and the parts whose faults it confirms, every symptom by its names."""
    found: dict[str, Called] = {}
    for check in library.checks.values():
        parts = (one for name, one in library.suspects.items() if name in check.tells and check.id in one.confirm)
        names = (check.title, *check.phrases, *(text for one in parts for text in (one.component, *one.phrases)))
        found |= {f"{check.id}.{question.key}": Called(names, question.say) for question in check.ask}
    for symptom in library.symptoms.values():
        found[f"indication:{symptom.id}"] = Called((symptom.name, *symptom.phrases))
    return found


def _trade_words(library: Library) -> frozenset[str]:
    """Every word that the knowledge uses of the machine and of what is done to it."""
    texts = [
        text for check in library.checks.values() for text in (check.title, check.why, check.probes, *check.phrases)
    ]
    texts += [question.say for check in library.checks.values() for question in check.ask]
    texts += [suspect.name for suspect in library.suspects.values()]
    texts += [symptom.name for symptom in library.symptoms.values()]
    texts += [repair.say for repair in (suspect.repair for suspect in library.suspects.values())]
    return frozenset(token.text for text in texts for token in tokens(text) if token.kind == "word")


def _following(state: VisitState, library: Library) -> tuple[str, ...]:
    if state.run is None:
        return ()
    check = library.checks[state.run.check]
    answered = {given.question for given in state.run.live_answers()}
    return tuple(f"{check.id}.{one.key}" for one in check.ask if one.key not in answered)[1:]


def _after(check: Check, question: str) -> tuple[str, ...]:
    keys = [one.key for one in check.ask]
    return tuple(f"{check.id}.{key}" for key in keys[keys.index(question) + 1 :])
