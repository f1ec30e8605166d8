"""The technician: measures with their own meters, answers plainly, is sometimes unable and sometimes wrong."""

from __future__ import annotations

import random
from dataclasses import dataclass, field
from typing import Literal

from tests.field.people.meters import Meters
from tests.field.world import Found

Cannot = Literal["dont-know", "cant-reach", "no-meter"]


@dataclass(frozen=True)
class Habits:
    """How often a question gets "I don't know", "I can't get at it", and a wrong answer or reading."""

    dont_know: float = 0.015
    cant_reach: float = 0.015
    misreads: float = 0.01
    #: share of technicians who speak in US customary units
    customary: float = 0.85
    #: share of technicians with a low-ohm meter
    low_ohm: float = 0.7


@dataclass(frozen=True)
class Said:
    """An answer: a choice, a finding of a meter, or why there is none. ``slip`` marks one that is wrong."""

    choice: str | None = None
    found: Found | None = None
    cannot: Cannot | None = None
    slip: bool = False


@dataclass
class Technician:
    """One person for one visit."""

    rng: random.Random
    habits: Habits = field(default_factory=Habits)

    def __post_init__(self) -> None:
        own = random.Random(self.rng.random())
        self.customary = self.rng.random() < self.habits.customary
        self.tools = frozenset({"low-ohm meter"} if own.random() < self.habits.low_ohm else ())
        self.meters = Meters(own, "low-ohm meter" in self.tools)

    def unable(self, hands_on: bool) -> Cannot | None:
        """Whether this time there is no answer; what only needs eyes or a word is never out of reach."""
        draw = self.rng.random()
        if draw < self.habits.dont_know:
            return "dont-know"
        return "cant-reach" if hands_on and draw < self.habits.dont_know + self.habits.cant_reach else None

    def chooses(self, choice: str, others: tuple[str, ...]) -> Said:
        """The answer that the world gives, or now and then another one."""
        wrong = [other for other in others if other != choice]
        if wrong and self.rng.random() < self.habits.misreads:
            return Said(choice=self.rng.choice(wrong), slip=True)
        return Said(choice=choice)

    def measures(self, quantity: str, found: Found) -> Said:
        """What the meter shows; now and then a digit is swapped or a range misread."""
        shown = self.meters.reads(quantity, found)
        if self.rng.random() >= self.habits.misreads or shown.value is None:
            return Said(found=shown)
        slips = (shown.value * 10, shown.value / 10, _swapped(shown.value))
        return Said(found=Found(self.rng.choice(slips)), slip=True)


def _swapped(value: float) -> float:
    """The first two digits the other way round."""
    digits = f"{abs(value):g}"
    figures = [at for at, sign in enumerate(digits) if sign.isdigit()][:2]
    if len(figures) < 2:
        return value
    signs = list(digits)
    signs[figures[0]], signs[figures[1]] = signs[figures[1]], signs[figures[0]]
    return float("".join(signs)) * (-1 if value < 0 else 1)
