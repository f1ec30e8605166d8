"""What may be answered now, told on request: every choice, or some of all sorts where they are many."""

from __future__ import annotations

from assistant.dialogue.asking import expectation
from assistant.dialogue.turn import Turn
from assistant.dialogue.wording import named_by
from assistant.language import units
from assistant.messages.message import Message, listed, message

#: Words of answers that "help" tells wholly, in one breath; of more it tells a few.
_SOON_SAID, _FEW = 14, 3


_MOST_LISTED = 8


def what_may_be_answered(turn: Turn) -> Message | None:
    """What may be answered: every choice, or some of all sorts where they are many."""
    expected = expectation(turn.state, turn.library, turn.profile)
    offered = [choice for choice in expected.choices if choice.offered]
    unit = units.say(expected.reading.unit, expected.reading.quantity) if expected.reading else ""
    if not offered:
        return message("help-reading", unit=unit) if unit else None
    names = named_by(turn, expected)
    first = [names.choice(choice.id) for choice in offered]
    if unit:
        return message("help-reading-or", unit=unit, answer=first[0])
    said = [choice.said for choice in offered]
    if len(" ".join(said).split()) > _SOON_SAID or len(said) > _MOST_LISTED:
        few = dict.fromkeys(first[at * len(first) // _FEW] for at in range(_FEW))
        return message("help-some", answers=listed(list(few)))
    *others, last = first
    return message("help-answers", answers=listed(others), last=last) if others else message("help-one", answer=last)
