"""What cannot be used: nothing is recorded, it is said why, and after the third time a way on is offered."""

from __future__ import annotations

from assistant.dialogue import facts as f
from assistant.dialogue import phrases
from assistant.dialogue.asking import may_skip
from assistant.dialogue.turn import Turn
from assistant.language.meaning import Correction, Meaning, ReadingExpectation, Readings
from assistant.messages.message import Message, message

#: So many times in a row before another way is offered.
_PATIENCE = 3


def mishear(turn: Turn, why: Message | None = None, refused: bool = False, heard_well: bool = False) -> bool:
    """Nothing was recorded: say so, and after the third time offer a way on. Never leads on.

    ``refused``: it was understood, but cannot be. ``heard_well``: it is no matter of the sound.
    """
    turn.emit(f.Misheard(refused=refused))
    if at_wits_end(turn):
        turn.tell("still-not-near" if heard_well else "still-no-use", "question", way=way_on(turn))
    else:
        turn.tell(why or message("say-again"), "question")
    return False


def at_wits_end(turn: Turn) -> bool:
    """Whether so much in a row could not be used that a way on is offered; there is none past a caution."""
    return turn.state.misheard >= _PATIENCE and not turn.state.acknowledging


def way_on(turn: Turn) -> Message:
    """What to say to go on without an answer."""
    skips = may_skip(turn.state) or bool(turn.state.job.aside)
    return message("command-skip" if skips else "command-help")


def doubtful(doubt: str) -> Message | None:
    """The doubt that came with the words, as the ears or the language put it."""
    return message("doubted", doubt=doubt) if doubt else None


def outside(meaning: Meaning, wanted: ReadingExpectation | None) -> Message | None:
    """Why a reading is not what instrument and place can give; None when it may be."""
    if isinstance(meaning, Correction):
        return outside(meaning.meaning, wanted) if meaning.meaning is not None else None
    if not isinstance(meaning, Readings) or wanted is None:
        return None
    low, high = wanted.plausible
    for item in meaning.items:
        if item.special == "open_line" and not wanted.open_line:
            return message("open-line-cannot-be")
        if item.value is not None and not low <= item.value <= high:
            return message("reading-cannot-be", reading=phrases.reading(item))
    return None
