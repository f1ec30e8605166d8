"""Answers outside a check: where, which unit, what it shows, the repair and the notes."""

from __future__ import annotations

from assistant.dialogue import arriving
from assistant.dialogue import facts as f
from assistant.dialogue.asking import MEND_LIKELIEST, NO_PROFILE, expectation
from assistant.dialogue.closing import close
from assistant.dialogue.emergencies import from_symptom
from assistant.dialogue.hazards import mended_by
from assistant.dialogue.job_asking import OF_UNIT, ZONE_CALLED
from assistant.dialogue.mending import begin_proof, repaired
from assistant.dialogue.mishearing import mishear
from assistant.dialogue.opening import indicated
from assistant.dialogue.searching import take_likeliest
from assistant.dialogue.state import Stage
from assistant.dialogue.turn import Turn
from assistant.dialogue.wording import named_by
from assistant.language.closed import REFRIGERANTS
from assistant.language.ledger import as_note
from assistant.language.meaning import Finding, Heard, Indication, Text
from assistant.language.named_choices import named_within
from assistant.language.rooms import ROOM
from assistant.messages.message import Message, message


def accept_in_stage(turn: Turn, heard: Heard) -> bool:
    state, meaning = turn.state, heard.meaning
    match state.stage, meaning:
        case Stage.SITE, Text(words=words):
            arriving.site_named(turn, words)
        case Stage.SITE, Finding(choice=choice):
            arriving.site_chosen(turn, choice)
        case Stage.PROFILE, Text(words=words):
            arriving.unit_named(turn, words)
        case Stage.PROFILE, Finding(choice=choice):
            _profile(turn, choice, heard.words)
        case Stage.SUPPLY, Finding(choice=choice):
            arriving.keep_from_stage(turn, supply=choice)
            _note(turn, "supply", choice, heard.words, _chosen(turn, choice), Stage.REFRIGERANT)
            if (named := _refrigerant_too(heard)) is not None:
                _refrigerant(turn, named, heard.words)
        case Stage.REFRIGERANT, Finding(choice=choice):
            _refrigerant(turn, choice, heard.words)
        case Stage.ZONE, Finding(choice=choice) if choice.startswith(ROOM):
            turn.emit(f.AsideAsked(topic=f"{ZONE_CALLED}:{choice.removeprefix(ROOM)}"))
        case Stage.ZONE, Finding(choice=choice):
            _note(turn, "zone", choice, heard.words, _chosen(turn, choice), Stage.INDICATION)
        case Stage.UNSOLVED, Indication(choice=MEND_LIKELIEST.id):
            take_likeliest(turn)
        case ((Stage.INDICATION | Stage.UNSOLVED), Indication(choice=choice)):
            _indication(turn, choice, heard.words)
        case Stage.REPAIR, Finding(choice=choice):
            suspect = state.suspect or ""
            mends = mended_by(turn, suspect) if choice == "done" else ()
            turn.emit(f.RepairDone(suspect=suspect, done=choice == "done", mends=mends))
            if choice == "done":
                repaired(turn)
            turn.tell("repair-noted" if choice == "done" else "repair-not-done", "result")
        case Stage.REPAIR_NOTE, Text(words=words):
            noted = as_note(words)
            _note(turn, "repair", noted, words, message("noted", words=noted), None)
            begin_proof(turn)
        case Stage.REPAIR_NOTE, Finding():
            begin_proof(turn)
        case Stage.CUSTOMER_NOTE, Text(words=words):
            noted = as_note(words)
            turn.emit(f.Noted(topic="customer", value=noted.rstrip(" ."), words=words))
            close(turn, message("noted", words=noted))
        case Stage.CUSTOMER_NOTE, Finding():
            close(turn)
        case _:
            return mishear(turn)
    return True


def _refrigerant(turn: Turn, choice: str, words: str) -> None:
    arriving.keep_from_stage(turn, refrigerant=choice)
    _note(turn, "refrigerant", choice, words, message("read-back", answer=choice), Stage.ZONE)


def _refrigerant_too(heard: Heard) -> str | None:
    """The refrigerant that was named with the supply: by the keyboard, or as two ears heard it."""
    named = [found[0] for _, words in heard.ears if len(found := named_within(words, REFRIGERANTS)) == 1]
    if len(set(named)) != 1 or (len(named) < _EARS and len(heard.ears) > 1):
        return None
    return named[0]


#: So many ears must have heard what nobody asked for.
_EARS = 2


def _chosen(turn: Turn, choice: str) -> Message:
    expected = expectation(turn.state, turn.library, turn.profile)
    return message("read-back", answer=named_by(turn, expected).choice(choice))


def _note(turn: Turn, topic: str, value: str, words: str, back: Message, then: Stage | None) -> None:
    turn.emit(f.Noted(topic=topic, value=value.rstrip(" ."), words=words))
    turn.tell(back, "result")
    if then is not None:
        turn.emit(f.StageEntered(stage=then))


def _profile(turn: Turn, choice: str, words: str) -> None:
    if choice == NO_PROFILE:
        arriving.no_profile(turn, words)
    elif choice.startswith(OF_UNIT):
        arriving.unit_chosen(turn, choice, words)
    else:
        arriving.profile_chosen(turn, choice, words)


def _indication(turn: Turn, choice: str, words: str) -> None:
    indicated(turn, choice, words)
    turn.emit(f.StageEntered(stage=Stage.CHECK))
    from_symptom(turn, turn.state.symptoms[-1])
