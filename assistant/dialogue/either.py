"""Asking which of two or three near meanings was meant, and taking the answer."""

from __future__ import annotations

from assistant.dialogue.turn import Turn
from assistant.dialogue.wording import spell
from assistant.language.compare import meaning_key
from assistant.language.meaning import Expectation, Finding, Heard, Indication, Meaning, Readings, Told
from assistant.language.measured_in import names_of_units
from assistant.messages.message import Message, listed, message


def is_short(option: Meaning) -> bool:
    """Whether an option can be named in a few words: not a row of readings, nor several facts."""
    if isinstance(option, Told):
        return len(option.facts) + (option.answer is not None) == 1
    return not isinstance(option, Readings) or len(option.items) == 1


def question(turn: Turn, heard: Heard, expected: Expectation) -> Message:
    """ "Did you mean low airflow, or no airflow?" """
    if (names := names_of_units(heard.options)) is not None:
        return message("which-measure", first=names[0], last=names[1])
    *first, last = (spell(turn, option, expected) for option in heard.options)
    return message("either", first=listed(first), last=last)


def picked(options: tuple[Meaning, ...], said: Meaning | None) -> Meaning | None:
    """The option that was meant; None when the words name none of them."""
    if isinstance(said, Finding):
        if said.choice.startswith("option-"):
            return options[int(said.choice.removeprefix("option-")) - 1]
        return next(
            (one for one in options if isinstance(one, Finding | Indication) and one.choice == said.choice), None
        )
    return next((one for one in options if said is not None and meaning_key(one) == meaning_key(said)), None)
