"""The plate by voice: asked once field by field, said back, corrected later; a visit goes on where it was."""

from __future__ import annotations

import re
from collections.abc import Collection

from assistant.dialogue import facts as f
from assistant.dialogue.entries import said_reading
from assistant.dialogue.plate_known import keep, measured_later
from assistant.dialogue.questions import ask_again
from assistant.dialogue.state import Stage
from assistant.dialogue.turn import Turn
from assistant.dialogue.units import zone_name
from assistant.job.plate import FIELDS, Plate
from assistant.language.meaning import Command, Finding, Meaning, Readings, Text
from assistant.language.names import make_and_model, serial_number
from assistant.language.number_words import DIGITS
from assistant.messages.catalogue import number
from assistant.quantities.refrigerants import REFRIGERANTS
from assistant.quantities.supplies import SUPPLIES

_UNSAID = "unsaid"


def ask_plate(turn: Turn, command: Command) -> bool:
    """ "Take the plate": what is missing is asked; with nothing missing it is read back and may be corrected."""
    if turn.state.acknowledging:
        turn.tell("understood-first", "question")
        return False
    if _ask_next(turn):
        return True
    read_back(turn)
    turn.emit(f.AsideAsked(topic="plate-which"))
    return True


#: Fields that hold a number, or nothing.
_NUMBERS = ("charge_kg", "breaker_a", "pipe_m", "lift_m")
#: Fields that are one of a few.
_NAMED: dict[str, Collection[str]] = {"supply": SUPPLIES, "refrigerant": REFRIGERANTS}


def _ask_next(turn: Turn) -> bool:
    later = measured_later(turn)
    lacking = [field for field in turn.state.job.plate.lacks() if field not in later]
    if not lacking:
        return False
    turn.emit(f.AsideAsked(topic=f"plate.{lacking[0]}"))
    return True


def begin_plate(turn: Turn) -> bool:
    """Ask for what the plate lacks; false when nothing is missing."""
    return _ask_next(turn)


def plate_answered(turn: Turn, field: str, meaning: Meaning, words: str, goes_on: bool = True) -> bool:
    """One field of the plate; then the next that is missing, where it ``goes_on``. True when it was taken."""
    plate = turn.state.job.plate
    if meaning == Finding(choice=_UNSAID):
        keep(turn, plate.without(field), words)
        turn.tell("set-aside", "result")
    else:
        changed = _with(plate, field, meaning)
        if changed is None:
            return False
        keep(turn, changed, words)
        _say_back(turn, field, meaning)
    _settled(turn, field, goes_on)
    return True


def skip_field(turn: Turn, field: str, goes_on: bool = True) -> None:
    """ "Skip": not to be had today."""
    keep(turn, turn.state.job.plate.without(field), "skip")
    _settled(turn, field, goes_on)


def _settled(turn: Turn, field: str, goes_on: bool) -> None:
    turn.emit(f.AsideSettled(topic=f"plate.{field}"))
    if goes_on and not _ask_next(turn):
        turn.tell("plate-done", "result")


def _with(plate: Plate, field: str, meaning: Meaning) -> Plate | None:
    match meaning:
        case Text() | Finding() if field in _NUMBERS:  # an answer to the field before, confirmed too late
            return None
        case Readings(items=(item,)) if field in _NUMBERS and item.value is not None:
            return plate.model_copy(update={field: item.value})
        case Finding(choice=choice) if choice in _NAMED.get(field, ()):
            return plate.model_copy(update={field: choice})
        case Text(words=words) if field == "make":
            make, model = make_and_model(words)
            return plate.model_copy(update={"make": make, "model": model})
        case Text(words=words) if field == "zones":
            names = _names(words)
            return plate.model_copy(update={"zones": names}) if names else plate.without(field)
        case Text(words=words) if field == "serial":
            if not any(sign.isdigit() for sign in serial_number(words)):  # no serial number: talk, or a question
                return None
            return plate.model_copy(update={"serial": serial_number(words)})
        case Text(words=words):
            return plate.model_copy(update={field: words.strip().rstrip(" .")})
    return None


_COUNTS = DIGITS[1:]
#: How many there are, said before their names or without any.
_SO_MANY = re.compile(
    rf"(?:just|only|it has|there are|there's|it's)?\s*(?:the )?(?P<count>{'|'.join(_COUNTS)}|[1-9]|a single|single)"
    r"(?: (?:of them|heads?|zones?|rooms?|(?:indoor )?units?))?\s*(?:[:,;]|$)",
    re.IGNORECASE,
)


def _names(words: str) -> tuple[str, ...]:
    """ "kitchen, bedroom and office"; of units that are only counted, "two heads", their numbers; of one, none."""
    counted = _SO_MANY.match(words.strip(" ."))
    rest = words.strip(" .")[counted.end() :] if counted else words
    parts = re.split(r",|\band\b|;", rest)
    names = tuple(dict.fromkeys(part.strip(" .").lower() for part in parts if part.strip(" .")))
    if names or counted is None:
        return names
    said = counted["count"].lower()
    many = int(said) if said.isdigit() else _COUNTS.index(said) + 1 if said in _COUNTS else 1
    return tuple(f"zone {_COUNTS[at]}" for at in range(many)) if many > 1 else ()


def zone_called(turn: Turn, zone: str, name: str, words: str) -> None:
    """The indoor unit in trouble has a name of its own from now on, at every visit to this unit."""
    zones = turn.profile.zones if turn.profile else ()
    before = zone_name(turn.profile, zone)
    names = tuple(name if each.id == zone else each.name for each in zones)
    keep(turn, turn.state.job.plate.model_copy(update={"zones": names}), words)
    turn.emit(f.Noted(topic="zone", value=zone, words=words))
    turn.tell("zone-is-called", "result", name=name, zone=before)
    turn.emit(f.StageEntered(stage=Stage.INDICATION))


def _say_back(turn: Turn, field: str, meaning: Meaning) -> None:
    plate = turn.state.job.plate
    if field == "zones" and not plate.zones:
        turn.tell("plate-one-zone", "result")
        return
    said = said_reading(meaning.items[0]) if isinstance(meaning, Readings) else value_of(plate, field)
    turn.tell("plate-field", "result", value=said)


def value_of(plate: Plate, field: str) -> str:
    """A field as it is read back."""
    value = getattr(plate, field)
    match field:
        case "make":
            return f"{plate.make} {plate.model}".strip()
        case "supply":
            return SUPPLIES[value].phrases[0] if value else ""
        case "charge_kg":
            return f"{number(value)} kg"
        case "breaker_a":
            return f"{number(value)} A"
        case "pipe_m" | "lift_m":
            return f"{number(value)} m"
        case "zones":
            return ", ".join(value)
    return str(value)


def read_back(turn: Turn) -> None:
    """The plate, a field a breath."""
    plate = turn.state.job.plate
    told = [field for field in FIELDS if getattr(plate, field) not in ("", None, ())]
    for field in told:  # a serial number is spelt, so each is a breath of its own
        turn.tell("plate-field", "remark", value=value_of(plate, field))


def which_answered(turn: Turn, choice: str) -> None:
    """Which field is to be corrected; "all good" ends it."""
    turn.emit(f.AsideSettled(topic="plate-which"))
    if choice != "all-good":
        turn.emit(f.AsideAsked(topic=f"plate.{choice}"))
        return
    ask_again(turn)
