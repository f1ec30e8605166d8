"""Answers to what is asked beside the visit: near and new names, the plate, a correction, who takes over, a point."""

from __future__ import annotations

import re

from assistant.dialogue import arriving, courses, ledgers, opening, other_zone, plates
from assistant.dialogue import facts as f
from assistant.dialogue.handover import take_over
from assistant.dialogue.job_asking import FIELD_CHOICES, OF_UNIT
from assistant.dialogue.turn import Turn
from assistant.language.meaning import Finding, Heard, Indication, Meaning, Text
from assistant.language.names import spelt

#: "No, it's a ..." refuses what was offered and names the right one.
_REFUSAL = re.compile(r"^\s*(?:no|nope|nah)\b[\s,.]+(?=\S)", re.IGNORECASE)
_YES, _NO = Finding(choice="yes"), Finding(choice="no")


def answered(turn: Turn, meaning: Meaning, heard: Heard, how: str) -> bool:
    """Take the answer to the open aside; false when it does not fit."""
    topic = turn.state.job.aside
    kind, _, about = topic.partition(":")
    if kind.startswith("plate."):
        return plates.plate_answered(turn, kind.partition(".")[2], meaning, heard.words, goes_on=not about)
    if kind in ("site-near", "profile-near", "site-new", "unit-new"):
        return _name(turn, topic, kind, about, meaning, heard)
    match kind, meaning:
        case "plate-which", Finding(choice=choice) if any(field.id == choice for field in FIELD_CHOICES):
            plates.which_answered(turn, choice)
        case (("ledger" | "ledger-words"), _):
            if not ledgers.corrected(turn, meaning, heard, how):
                return False
            turn.emit(f.AsideSettled(topic=topic))
        case "reports", Indication(choice=choice):
            opening.reported(turn, choice, heard.words)
        case "zone-called", Finding(choice=choice):
            turn.emit(f.AsideSettled(topic=topic))
            plates.zone_called(turn, choice, about, heard.words)
        case "zone-other", Finding(choice=choice):
            turn.emit(f.AsideSettled(topic=topic))
            other_zone.named(turn, choice)
        case "zone-wrong", Finding(choice=choice):
            turn.emit(f.AsideSettled(topic=topic))
            other_zone.settled(turn, about, choice, heard.words)
        case "open-visits", Finding(choice=choice):
            turn.emit(f.AsideSettled(topic=topic))
            arriving.open_visit_answered(turn, about, choice)
        case "take-over", Text(words=words):
            turn.emit(f.AsideSettled(topic=topic))
            take_over(turn, words.strip().rstrip(" ."))
        case "place", Finding(choice=choice):
            turn.emit(f.AsideSettled(topic=topic))
            ledgers.place_answered(turn, choice, heard.words)
        case "open-point", Finding(choice=choice):
            turn.emit(f.AsideSettled(topic=topic))
            courses.point_answered(turn, topic, choice)
        case _:
            return False
    return True


def _name(turn: Turn, topic: str, kind: str, about: str, meaning: Meaning, heard: Heard) -> bool:
    """A name that was offered or is to be confirmed; said or spelt again it is asked once more."""
    if meaning not in (_YES, _NO) and not isinstance(meaning, Text):
        return False
    turn.emit(f.AsideSettled(topic=topic))
    if isinstance(meaning, Text):
        meaning = Text(words=_REFUSAL.sub("", meaning.words))
    if isinstance(meaning, Text) and kind in ("unit-new", "profile-near") and not spelt(meaning.words):
        arriving.unit_named(turn, meaning.words)  # it may be one that is known
    elif isinstance(meaning, Text) and kind == "site-near":
        arriving.site_named(turn, meaning.words)
    elif isinstance(meaning, Text):
        name = spelt(meaning.words) or meaning.words.strip().rstrip(" .")
        turn.emit(f.AsideAsked(topic=f"{kind.replace('profile-near', 'unit-new')}:{name}"))
    elif meaning == _NO:
        turn.tell("say-or-spell", "remark")
    elif kind in ("site-near", "site-new"):
        arriving.arrive(turn, about)
    elif kind == "unit-new":
        arriving.unit_new(turn, about)
    elif about.startswith(OF_UNIT):
        arriving.unit_chosen(turn, about, heard.words)
    else:
        arriving.profile_chosen(turn, about, heard.words)
    return True


def skipped(turn: Turn) -> None:
    """ "Skip", "I don't know": the field of the plate is not to be had; any other aside is dropped."""
    topic = turn.state.job.aside
    kind, _, about = topic.partition(":")
    if kind.startswith("plate."):
        plates.skip_field(turn, kind.partition(".")[2], goes_on=not about)
    elif topic.startswith("open-point"):
        turn.emit(f.AsideSettled(topic=topic))
        courses.point_answered(turn, topic, "open")
    else:
        turn.emit(f.AsideSettled(topic=topic))
        turn.tell("set-aside", "result")
