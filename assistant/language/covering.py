"""What a sentence tells in general and in particular: "it shows a code, the book says fan" tells the particular."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.language.meaning import Indication, Interpretation, Meaning, Told

#: A general symptom, and those of which it is one.
Covers = Mapping[str, frozenset[str]]


def particular(found: Interpretation, covers: Covers) -> Interpretation:
    """``found`` without a general symptom where one of those that it may be is told, or may be meant, as well."""
    meanings = found.options or ((found.meaning,) if found.meaning is not None else ())
    told = {symptom for meaning in meanings for symptom in _symptoms(meaning)}
    general = {symptom for symptom in told if not told.isdisjoint(covers.get(symptom, frozenset()))}
    if not general:
        return found
    left = tuple(dict.fromkeys(one for one in (_without(meaning, general) for meaning in meanings) if one is not None))
    options = left if found.options and len(left) > 1 else ()
    return found.model_copy(update={"meaning": left[0], "options": options})


def _symptoms(meaning: Meaning) -> tuple[str, ...]:
    if isinstance(meaning, Indication):
        return (meaning.choice,)
    if isinstance(meaning, Told):
        every = (*((meaning.answer,) if isinstance(meaning.answer, Indication) else ()), *meaning.facts)
        return tuple(one.choice for one in every if isinstance(one, Indication))
    return ()


def _without(meaning: Meaning, general: set[str]) -> Meaning | None:
    if isinstance(meaning, Indication):
        return None if meaning.choice in general else meaning
    if not isinstance(meaning, Told):
        return meaning
    facts = tuple(fact for fact in meaning.facts if not (isinstance(fact, Indication) and fact.choice in general))
    answer = meaning.answer
    if isinstance(answer, Indication) and answer.choice in general:  # the particular one answers in its place
        answer = next((fact for fact in facts if isinstance(fact, Indication)), None)
        facts = tuple(fact for fact in facts if fact is not answer)
    if not facts:
        return answer
    return Told(answer=answer, facts=facts)
