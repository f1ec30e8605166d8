"""Closed choices that are asked for in more than one place: yes and no, the supply, the refrigerant."""

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
