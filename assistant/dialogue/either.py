"""Asking which of two or three near meanings was meant, and taking the answer."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from assistant.dialogue.turn import Turn
from assistant.dialogue.wording import spell, spell_with_matter
from assistant.language.compare import is_both, meaning_key
from assistant.language.meaning import (
    Command,
    Expectation,
    Finding,
    Heard,
    Indication,
    Meaning,
    Readings,
    Told,
    ToldAnswer,
)
from assistant.language.measured_in import names_of_units
from assistant.messages.catalogue import catalogue
from assistant.messages.message import Message, Value, listed, message


def is_short(option: Meaning) -> bool:
    """Whether an option can be named in a few words: not a row of readings, nor several facts."""
    if isinstance(option, Told):
        rows = (fact.answer for fact in option.facts if isinstance(fact, ToldAnswer))
        few = len(option.facts) + (option.answer is not None) == 1 or is_both(option)
        return few and not any(_is_row(row) for row in (*rows, option.answer))
    return not _is_row(option)


def _is_row(answer: Meaning | None) -> bool:
    return isinstance(answer, Readings) and len(answer.items) > 1


def question(turn: Turn, heard: Heard, expected: Expectation) -> Message:
    """ "Did you mean low airflow, or no airflow?" """
    if (names := names_of_units(heard.options)) is not None:
        return message("which-measure", first=names[0], last=names[1])
    *first, last = _names(turn, heard.options, expected)
    if is_both(heard.options[-1]) and len(first) > 1:
        *first, last = first
        return message("either-or-both", first=listed(first), last=last)
    return message("either", first=listed(first), last=last)


def told_apart(turn: Turn, heard: Heard, expected: Expectation) -> Heard:
    """What was heard with only those options that sound different: nobody can choose between two of one name. Where no
    caution waits, "understood" is none."""
    if names_of_units(heard.options) is not None:
        return heard
    if turn.state.acknowledging == ():
        mine = tuple(option for option in heard.options if option != Command(name="acknowledged"))
        heard = heard.model_copy(update={"options": mine or heard.options})
    by_words: dict[str, Meaning] = {}
    for option, words in zip(heard.options, _as_words(turn, _names(turn, heard.options, expected)), strict=True):
        by_words.setdefault(words, option)
    left = tuple(by_words.values())
    return heard.model_copy(update={"meaning": left[0], "options": left if len(left) > 1 else ()})


def _names(turn: Turn, options: Sequence[Meaning], expected: Expectation) -> list[Value]:
    """What each option is called; the same answer to several checks with the check it belongs to."""
    names = [spell(turn, option, expected) for option in options]
    words = _as_words(turn, names)
    count = Counter(words)
    return [
        name if count[said] == 1 else spell_with_matter(turn, option, expected)
        for option, name, said in zip(options, names, words, strict=True)
    ]


def _as_words(turn: Turn, names: Sequence[Value]) -> list[str]:
    return [catalogue().phrase(name, turn.library).lower() for name in names]


def picked(options: tuple[Meaning, ...], said: Meaning | None) -> Meaning | None:
    """The option that was meant; None when the words name none of them."""
    if isinstance(said, Finding):
        if said.choice.startswith("option-"):
            return options[int(said.choice.removeprefix("option-")) - 1]
        return next(
            (one for one in options if isinstance(one, Finding | Indication) and one.choice == said.choice), None
        )
    return next((one for one in options if said is not None and meaning_key(one) == meaning_key(said)), None)
