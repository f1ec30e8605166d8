"""The altitude of the site, which gauge pressures count from: asked once, before the first check that needs it.

Near 1,600 m the air weighs 17 kPa less than at the sea: R-410A then boils a good kelvin colder than its gauge says.
Where it is not known, sums and verdicts count from the sea, and say so.
"""

from __future__ import annotations

from assistant.calculations import catalogue
from assistant.dialogue import facts as f
from assistant.dialogue import phrases
from assistant.dialogue.turn import Turn
from assistant.language.meaning import Choice, Expectation, Finding, Meaning, Reading, ReadingExpectation, Readings
from assistant.library.models import Check
from assistant.messages.message import message
from assistant.reasoning.judges import uses_altitude

QUESTION = message("ask-altitude")
#: What the altitude is noted under, in meters as text; empty where it was asked and nobody knew.
TOPIC = "altitude"
SEA_LEVEL = Choice(id="sea-level", phrases=("sea level", "at sea level", "near sea level", "about sea level"))
#: From the shore of the Dead Sea to above the highest town, in meters.
PLAUSIBLE_M = (-430.0, 5500.0)
ASKED = Expectation(
    question="visit.altitude",
    reading=ReadingExpectation(quantity="length", unit="ft", plausible=PLAUSIBLE_M),
    choices=(SEA_LEVEL,),
    topic="Altitude of the site.",
)


def ask_first(turn: Turn, check: Check) -> bool:
    """Open the question of the altitude where this check needs it and it was never asked; true when it was opened."""
    if turn.state.note(TOPIC) is not None or not uses_altitude(check):
        return False
    turn.emit(f.AltitudeAsked())
    return True


def take_altitude(turn: Turn, meaning: Meaning | None) -> bool:
    """Note the answer and say it back; false when it is none."""
    match meaning:
        case Finding(choice=SEA_LEVEL.id):
            turn.emit(f.Noted(topic=TOPIC, value="0"))
            turn.tell("altitude-sea-level", "result")
        case Readings(items=(Reading(value=float() as meters) as reading,)):
            turn.emit(f.Noted(topic=TOPIC, value=f"{meters:g}"))
            turn.tell("altitude-noted", "result", altitude=phrases.reading(reading))
        case _:
            return False
    return True


def leave_open(turn: Turn) -> None:
    """Nobody knows, or it was skipped: sums count from the sea, and it is not asked again."""
    turn.emit(f.Noted(topic=TOPIC, value=""))
    turn.tell("altitude-unknown", "remark")


def note_from_sum(turn: Turn, given: Reading) -> None:
    """An altitude named in a sum is that of the site from then on."""
    if given.value is not None and PLAUSIBLE_M[0] <= given.value <= PLAUSIBLE_M[1]:
        turn.emit(f.Noted(topic=TOPIC, value=f"{given.value:g}"))


def counts_from_the_sea(calculation: str) -> bool:
    """Whether a sum takes an altitude, so that one that was not given was taken for none."""
    return catalogue.find(calculation).parameter(TOPIC) is not None
