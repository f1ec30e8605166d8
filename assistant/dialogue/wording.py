"""How any meaning is named when it is asked back or said back: an answer, a fact told unasked, a request."""

from __future__ import annotations

from assistant.dialogue import phrases
from assistant.dialogue.entries import entry_message
from assistant.dialogue.nameable import components
from assistant.dialogue.phrases import Labels, labels
from assistant.dialogue.state import Given
from assistant.dialogue.turn import Turn
from assistant.language.meaning import (
    BackQuestion,
    Cannot,
    Command,
    Expectation,
    Finding,
    Indication,
    LedgerSaid,
    Meaning,
    Readings,
    Told,
    ToldAnswer,
    ToldFact,
)
from assistant.library.models import Check, Question
from assistant.messages.catalogue import catalogue
from assistant.messages.message import Value, known, listed, message

#: So many words of an answer tell by themselves what they are about, unless they begin with "it".
_TELLS_ALONE = 3
_OF_WHAT = frozenset(
    {"it", "it's", "they", "they're", "that", "this", "all", "both", "one", "yes", "no", "nothing", "there"}
)


def named_by(turn: Turn, expected: Expectation) -> Labels:
    """What the choices and places of ``expected`` are called."""
    check_id, _, key = expected.question.partition(".")
    check = turn.library.checks.get(check_id)
    asked = check.ask if check else ()
    question = next((one for one in asked if one.key == key.partition(".")[0]), None)
    if question is not None:
        return labels(check_id, question)
    places = expected.reading.places if expected.reading else ()
    symptoms = turn.library.symptoms if expected.choice_kind == "indication" else ()
    return Labels(expected.choices, places, symptoms=symptoms)


def given_words(turn: Turn, given: Given) -> Value:
    """A recorded answer as it is read back."""
    question = next(one for one in turn.check(given.check).ask if one.key == given.question)
    return phrases.answer(given.answer, labels(given.check, question), given.place)


def spell(turn: Turn, meaning: Meaning, expected: Expectation) -> Value:
    """The meaning in a few words, as an answer to ``expected`` where it is one."""
    match meaning:
        case Indication(choice=choice) if choice in turn.library.symptoms:
            return known("symptoms", choice, "name")
        case Told(answer=answer, facts=facts):
            parts = [spell(turn, answer, expected)] if answer is not None else []
            return listed([*parts, *(spell_fact(turn, fact) for fact in facts)])
        case Cannot(reason=reason):
            return message(f"cannot-{reason}")
        case LedgerSaid(entry=entry):
            return entry_message(entry)
        case BackQuestion(topic=topic):
            return message(f"back-{topic}")
        case Command():
            return spell_command(turn, meaning)
    return phrases.meaning(meaning, named_by(turn, expected))


def spell_command(turn: Turn, command: Command) -> Value:
    """A request as it is asked back: "check the float switch", "skip"."""
    named = f"command-{command.name}"  # one that is not known is answered as "help" is
    name = message(named if named in catalogue().variables else "command-help")
    target = next((item for item in components(turn.library) if item.id == command.argument), None)
    return message("command-the", command=name, what=target.said) if target else name


def spell_with_matter(turn: Turn, meaning: Meaning, expected: Expectation) -> Value:
    """The meaning with the check that it is an answer to, where several checks have an answer of one name."""
    if isinstance(meaning, Told) and meaning.answer is None:
        return listed([spell_fact(turn, fact, always=True) for fact in meaning.facts])
    check = turn.library.checks.get(expected.question.partition(".")[0])
    said = spell(turn, meaning, expected)
    if check is None or not isinstance(meaning, Finding | Readings):
        return said
    return message("answer-for", check=known("checks", check.id, "title"), answer=said)


def spell_fact(turn: Turn, fact: ToldFact, always: bool = False) -> Value:
    """What was told, with the matter before it where the answer alone would not tell ("the filter, clear"), or
    ``always``."""
    if isinstance(fact, Indication):
        return known("symptoms", fact.choice, "name") if fact.choice in turn.library.symptoms else fact.choice
    check, question = question_of(turn, fact)
    answer = fact.answer
    said = phrases.meaning(answer, labels(check.id, question))
    if always:
        return message("answer-for", check=known("checks", check.id, "title"), answer=said)
    if isinstance(answer, Finding):
        words = next((one.said for one in question.choices if one.id == answer.choice), answer.choice)
        alone = len(words.split()) >= _TELLS_ALONE and words.split()[0].lower() not in _OF_WHAT
    else:
        alone = len(answer.items) > 1 or answer.items[0].place is not None
    return said if alone else message("matter", check=known("checks", check.id, "title"), answer=said)


def question_of(turn: Turn, fact: ToldAnswer) -> tuple[Check, Question]:
    """The check and the question that a told answer belongs to."""
    check_id, _, key = fact.question.partition(".")
    check = turn.check(check_id)
    return check, next(question for question in check.ask if question.key == key)
