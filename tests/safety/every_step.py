"""``python -m tests.safety.every_step``: lead a willing technician to every check and repair of the knowledge, watched.

Random visits come to a rare step rarely; here each is led to once a unit.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from functools import partial

from assistant.language.meaning import Indication, Text
from assistant.library.loader import load
from assistant.visit.session import Knowledgeable
from tests.safety.rules import Break
from tests.safety.scripted import Led

#: Units that together have most of what a check may need: what is answered from the site to the symptom.
UNITS: dict[str, tuple[str, ...]] = {
    "one zone": ("copper-wren-solo",),
    "several zones": ("lantern-hill-trio", "zone-1"),
    "three phases": ("no-profile", "three-phase-400", "R410A"),
}


def begun(context: Knowledgeable, unit: str) -> Led:
    """A visit at its first check."""
    led = Led(context)
    led.say(Text(words="mill lane"))
    for answer in UNITS[unit]:
        led.choose(answer)
    return led.say(Indication(choice="no-communication"))


def checked(check: str, led: Led) -> Led:
    """On to the check."""
    return led.check(check)


def repaired(suspect: str, led: Led) -> Led:
    """Through the repair and on to its proof."""
    led.repair(suspect)
    return led.choose("done") if led.question == "visit.repair" else led


def steps(context: Knowledgeable) -> Iterator[tuple[str, Callable[[Led], Led]]]:
    """Every check and every repair, and how it is led to."""
    for check in context.library.checks:
        yield f"check {check}", partial(checked, check)
    for suspect in context.library.suspects:
        yield f"repair {suspect}", partial(repaired, suspect)


def breaks(context: Knowledgeable, unit: str) -> Iterator[tuple[str, Break]]:
    """The rules that are broken on the way to a step, with its name."""
    for name, lead in steps(context):
        for each in lead(begun(context, unit)).breaks:
            yield name, each


def main() -> None:
    """Print each break; exit 1 when there was one."""
    context, broken = Knowledgeable(load()), 0
    for unit in UNITS:
        found = list(breaks(context, unit))
        broken += len(found)
        for name, each in found:
            print(f"{unit}, {name}: {each.rule}: {each.how}")
    print(f"{len(list(steps(context)))} steps on {len(UNITS)} units, {broken} breaks")
    sys.exit(1 if broken else 0)


if __name__ == "__main__":
    main()
