"""Somebody who types: an answer for whatever is asked, now and then a command, all from one seed."""

from __future__ import annotations

from fnmatch import fnmatch
from random import Random

_ANSWERS = (
    ("visit.site", ("mill lane", "the town hall", "harbor street nine")),
    ("visit.profile", ("copper wren solo", "lantern hill trio")),
    ("visit.zone", ("zone two", "the first zone")),
    ("visit.indication", ("leaf lamp blinks slowly", "it blows warm air", "it says silent", "nothing happens")),
    ("precaution*", ("understood",)),
    ("lock-out-power*", ("locked",)),
    ("mains-dead*", ("both zero", "both zero", "230 volts")),
    ("restore-power*", ("done",)),
    ("confirm", ("yes", "no")),
    ("*volt*", ("three point eight volts", "two hundred thirty one volts", "zero volts")),
    ("repair.*", ("done", "no")),
    ("visit.repair-note", ("moved the brown wire",)),
    ("visit.customer-note", ("no note",)),
)
_ANYTHING = (
    "yes",
    "no",
    "done",
    "normal",
    "twelve point five volts",
    "four point two kilohms",
    "I do not know",
    "skip",
)
_COMMANDS = ("why", "repeat", "where am I", "what is left", "go back", "slower", "wait", "carry on", "is it safe",
             "correction four volts", "prove it dead")  # fmt: skip


def line(question: str, chance: Random) -> str:
    """What is typed when this is asked."""
    if question == "held":
        return "carry on"
    if chance.random() < 0.12:
        return chance.choice(_COMMANDS)
    fitting = next((answers for pattern, answers in _ANSWERS if fnmatch(question, pattern)), _ANYTHING)
    return chance.choice(fitting)
