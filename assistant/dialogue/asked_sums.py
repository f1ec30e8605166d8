"""Sums asked aloud: what is missing is taken from the site or asked for, the result is said."""

from __future__ import annotations

from assistant.calculations import catalogue
from assistant.calculations.entry import Value
from assistant.dialogue import facts as f
from assistant.dialogue.altitude import TOPIC, counts_from_the_sea, note_from_sum
from assistant.dialogue.questions import ask_again
from assistant.dialogue.turn import Turn
from assistant.errors import LaddersideError
from assistant.language.meaning import Calculation


def _known_of_the_site(turn: Turn, asked: str) -> dict[str, Value]:
    """What a sum need not be told: by the site and the unit's profile."""
    known: dict[str, Value] = {} if turn.altitude_m is None else {TOPIC: turn.altitude_m}
    unit = turn.profile
    if unit is None:
        return known
    known |= {"refrigerant": unit.refrigerant.name, "system": unit.supply.system}
    if asked == "charge" and not unit.general:
        due = unit.refrigerant
        known |= {"nameplate": due.charge_kg, "free": due.free_length_m, "added": float(due.added_g_per_m)}
    return known


def calculate(turn: Turn, asked: Calculation) -> bool:
    """A sum asked aloud: the same functions that the verdicts use, spoken with the result first."""
    try:
        values = {name: reading.value for name, reading in asked.values if reading.value is not None}
        for name, reading in asked.values:
            if name == TOPIC:
                note_from_sum(turn, reading)
        result = catalogue.run(asked.name, values, _known_of_the_site(turn, asked.name))
    except LaddersideError as error:
        turn.tell("sum-refused", "remark", why=str(error))
    else:
        turn.emit(
            f.CalculationMade(
                name=asked.name,
                formula=result.formula,
                numbers=result.numbers,
                result=result.text,
                source=result.source,
            )
        )
        turn.tell("sum", "result", name=asked.name.replace("-", " "), result=result.text)
        if turn.altitude_m is None and counts_from_the_sea(asked.name):
            turn.tell("sum-at-sea-level", "remark")
    ask_again(turn)
    return False
