"""How any meaning is named when it is asked back or said back: an answer, a fact told unasked, a request."""

from __future__ import annotations

from assistant.dialogue import phrases
from assistant.dialogue.asking import components
from assistant.dialogue.turn import Turn
from assistant.language.meaning import (
    BackQuestion,
    Cannot,
    Command,
    Expectation,
    Finding,
    Indication,
    Meaning,
    Readings,
    Told,
    ToldAnswer,
    ToldFact,
)
from assistant.library.models import Check, Question
from assistant.messages.catalogue import catalogue
from assistant.messages.message import message

#: So many words of an answer tell by themselves what they are about ("it is clear" does).
_TELLS_ALONE = 3


def spell(turn: Turn, meaning: Meaning, expected: Expectation) -> str:
    """The meaning in a few words, as an answer to ``expected`` where it is one."""
    match meaning:
        case Indication(choice=choice) if choice in turn.library.symptoms:
            return turn.library.symptoms[choice].name
        case Told(answer=answer, facts=facts):
            parts = [spell(turn, answer, expected)] if answer is not None else []
            return ", ".join([*parts, *(spell_fact(turn, fact) for fact in facts)])
        case Cannot(reason=reason):
            return _plain(turn, f"cannot-{reason}")
        case BackQuestion():
            return _plain(turn, "a-question-back")
        case Command(name=name, argument=argument):
            target = next((item for item in components(turn.library) if item.id == argument), None)
            return f"{name.replace('-', ' ')} {target.phrases[0]}" if target else name.replace("-", " ")
    places = expected.reading.places if expected.reading else ()
    return phrases.meaning(meaning, places, expected.choices)


def spell_fact(turn: Turn, fact: ToldFact) -> str:
    """What was told, with the matter before it where the answer alone would not tell ("the filter, clear")."""
    if isinstance(fact, Indication):
        return turn.library.symptoms[fact.choice].name if fact.choice in turn.library.symptoms else fact.choice
    check, question = question_of(turn, fact)
    answer = fact.answer
    if isinstance(answer, Finding):
        said = phrases.choice_words(question.choices, answer.choice)
    else:
        places = question.reading.places if question.reading else ()
        said = phrases.meaning(Readings(items=answer.items), places, ())
    return said if len(said.split()) >= _TELLS_ALONE else f"{check.title[0].lower()}{check.title[1:]}, {said}"


def question_of(turn: Turn, fact: ToldAnswer) -> tuple[Check, Question]:
    """The check and the question that a told answer belongs to."""
    check_id, _, key = fact.question.partition(".")
    check = turn.check(check_id)
    return check, next(question for question in check.ask if question.key == key)


def _plain(turn: Turn, name: str) -> str:
    return catalogue().words(message(name), turn.library).rstrip(".").lower()
