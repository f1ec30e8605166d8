"""Closed choices that are asked for in more than one place: yes and no, supply, refrigerant, nothing reported."""

from __future__ import annotations

from assistant.language.meaning import Choice
from assistant.quantities.refrigerants import REFRIGERANTS as _REFRIGERANTS
from assistant.quantities.supplies import SUPPLIES as _SUPPLIES

_YES = ("yes", "right", "correct", "that is right")
_NO = ("no", "wrong", "not right")

#: Whether something is so.
YES_NO = (Choice(id="yes", phrases=_YES), Choice(id="no", phrases=_NO))
#: Whether a unit has something.
HAS_IT = (Choice(id="yes", phrases=(*_YES, "it has")), Choice(id="no", phrases=(*_NO, "it has none")))

SUPPLIES = tuple(Choice(id=supply.id, phrases=supply.phrases) for supply in _SUPPLIES.values())
REFRIGERANTS = tuple(Choice(id=name, phrases=phrases) for name, phrases in _REFRIGERANTS.items())

#: Display and lamps report no fault.
NOTHING_REPORTED = Choice(
    id="nothing",
    phrases=(
        *("nothing", "no message", "it shows nothing", "no fault shown", "no", "nope", "none", "no nothing"),
        *("no fault", "no faults", "no error", "no errors", "no error on it", "no code", "no codes", "no alarm"),
        *("nothing on it", "nothing on the display", "nothing on the screen", "nope nothing on the display"),
        *("no fault on the display", "no code on the display", "no code and no lights", "no codes no lights"),
        *("nothing flashing", "no lights flashing", "nothing blinking", "no blinking", "nothing showing", "no alarms"),
        *("it's not showing anything", "it doesn't show anything", "it doesn't report anything", "nope nothing"),
        *("it isn't reporting anything", "it doesn't say anything", "it isn't showing a thing", "no it is clean"),
        *("not showing a fault", "not that i can see", "nothing that i can see"),
    ),
)
