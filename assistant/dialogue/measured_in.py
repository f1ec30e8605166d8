"""One system of measurement a visit: that of the first reading which can only be in one, or as it was asked.

A number without its unit is in that system from then on; before, one that could be in either is asked about.
"""

from __future__ import annotations

from assistant.dialogue import facts as f
from assistant.dialogue.turn import Turn
from assistant.language.meaning import Heard, Meaning, ReadingExpectation, Readings
from assistant.language.measured_in import could_be, names_of_units
from assistant.quantities.systems import System, system_of


def keep_system(turn: Turn, meaning: Meaning | None, wanted: ReadingExpectation | None) -> None:
    """The first reading that can only be in one system settles it for the visit."""
    if turn.state.system or not isinstance(meaning, Readings) or wanted is None:
        return
    for item in meaning.items:
        said = system_of(item.spoken_unit, item.quantity)
        unsaid = item.unit_assumed and could_be(Readings(items=(item,)), wanted, "")
        if said and item.value and not unsaid:
            turn.emit(f.SystemSettled(system=said))
            return


def ask_which_unit(turn: Turn, heard: Heard, options: tuple[Readings, ...]) -> bool:
    """ "Celsius or Fahrenheit?", once a visit: its answer settles the system."""
    asked = heard.model_copy(update={"meaning": options[0], "options": options, "trust": "confirm"})
    first, last = names_of_units(options) or ("", "")
    turn.emit(f.ConfirmationAsked(heard=asked))
    turn.tell("which-measure", "question", first=first, last=last)
    return False


def as_told(turn: Turn, told: Readings, wanted: ReadingExpectation) -> Readings | None:
    """Readings told unasked, in the visit's system where no unit was said; None where they could be in either."""
    options = could_be(told, wanted, "")
    if not options:
        return told
    return next((one for one in options if _is_in(one, turn.state.system)), None)


def _is_in(told: Readings, system: System) -> bool:
    return bool(system) and all(system_of(item.spoken_unit, item.quantity) in (system, "") for item in told.items)
