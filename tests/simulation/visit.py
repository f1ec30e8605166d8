"""One simulated visit from complaint to conclusion."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random
from typing import Literal

from assistant.library.loader import Library
from assistant.library.profile import UnitProfile
from assistant.reasoning.belief import Belief
from assistant.reasoning.conclusion import conclude
from assistant.reasoning.judges import judge
from assistant.reasoning.reasoner import Reasoner
from tests.simulation import orders
from tests.simulation.catalogue import ANSWERS, FAULTS, INDICATIONS, broken_unit, shown
from tests.simulation.technician import Technician
from tests.simulation.unit import Unit

OrderName = Literal["ours", "textbook", "cheapest"]
#: No visit is longer than this.
MOST_CHECKS = 200


@dataclass(frozen=True)
class Draw:
    """A unit with one fault, and what its customer says."""

    profile: UnitProfile
    fault: str
    unit: Unit
    symptoms: tuple[str, ...]


@dataclass(frozen=True)
class Outcome:
    """How a visit ended. ``named``: the suspect found or left first; ``condemned``: a good part would be renewed."""

    fault: str
    kind: str
    named: str
    right: bool
    condemned: bool
    minutes: float
    checks: int
    steps: tuple[str, ...] = ()


class Simulation:
    """Draws and runs visits over one library; reasoners are kept by profile."""

    def __init__(self, library: Library, profiles: Sequence[UnitProfile]) -> None:
        self.library = library
        self._reasoners = {profile.id: Reasoner(library, profile) for profile in profiles}
        self.profiles = tuple(profiles)

    def reasoner(self, profile: UnitProfile) -> Reasoner:
        """The reasoner of a profile."""
        return self._reasoners[profile.id]

    def draw(self, rng: Random) -> Draw:
        """A unit with one fault by the library's weights, that somebody has complained of."""
        while True:
            profile = rng.choice(self.profiles)
            table = self._reasoners[profile.id].table
            suspects = [suspect for suspect in table.suspects if suspect in FAULTS]
            fault = rng.choices(suspects, [self.library.suspects[suspect].weight for suspect in suspects])[0]
            unit = broken_unit(profile, self.library.suspects[fault], rng)
            symptoms = complaints(unit, rng)
            if symptoms:
                return Draw(profile, fault, unit, symptoms)

    def run(self, draw: Draw, order: OrderName, seed: int, wrong: float) -> Outcome:
        """Search the fault of a draw in one order; the same seed gives the same noise."""
        reasoner = self._reasoners[draw.profile.id]
        technician = Technician(self.library, draw.unit, Random(seed), wrong)
        choose = {
            "ours": lambda: orders.ours(reasoner),
            "textbook": lambda: orders.textbook(reasoner, self.library, list(draw.symptoms)),
            "cheapest": lambda: orders.cheapest(reasoner),
        }[order]()
        now = orders.Standing(skipped=[check for check in reasoner.table.checks if check not in ANSWERS])
        belief = reasoner.start(draw.symptoms)
        minutes, steps = 0.0, []
        doubted: set[str] = set()
        again: str | None = None
        named = None
        for _ in range(MOST_CHECKS):
            check_id = again or choose(belief, now)
            advice = reasoner.next_check(belief, now.done, now.skipped, now.state, now.where) if again is None else None
            if again is None and (named := reasoner.named(belief, now.done, now.skipped, advice)):
                break
            if check_id is None:
                break
            check = self.library.checks[check_id]
            minutes += orders.minutes_of(reasoner, check, now)
            orders.move(check, now)
            judgement = judge(check, technician.answer(check), self.library, draw.profile)
            steps.append(f"{check_id}={judgement.outcome}")
            before, belief = belief, reasoner.update(belief, check_id, judgement.chances)
            again = self._doubt(reasoner, before, check_id, judgement.chances, doubted)
        return self._ended(draw, reasoner, belief, now, minutes, steps, named is not None)

    def _doubt(
        self,
        reasoner: Reasoner,
        before: Belief,
        check_id: str,
        chances: tuple[tuple[str, float], ...],
        doubted: set[str],
    ) -> str | None:
        """As the dialogue does: ask a clashing answer again first, then the earlier one; each once."""
        clash = reasoner.contradiction(before, check_id, chances)
        if clash is None:
            return None
        again = next((check for check in (check_id, clash) if check not in doubted), None)
        if again is not None:
            doubted.add(again)
        return again

    def _ended(
        self,
        draw: Draw,
        reasoner: Reasoner,
        belief: Belief,
        now: orders.Standing,
        minutes: float,
        steps: list[str],
        found: bool,
    ) -> Outcome:
        conclusion = conclude(reasoner.table, belief, now.done, now.skipped, more=False)
        named = conclusion.suspect or ""
        found = found or conclusion.kind == "found"
        kind = "found" if found else conclusion.kind
        condemned = found and named != draw.fault and self.library.suspects[named].condemn
        return Outcome(draw.fault, kind, named, named == draw.fault, condemned, minutes, len(steps), tuple(steps))


def complaints(unit: Unit, rng: Random) -> tuple[str, ...]:
    """What is known on arrival: what the unit reports, nearly always, and what the customer tells, by how much it is
    noticed."""
    seen = shown(unit)
    reported = [key for key in seen if key in INDICATIONS and rng.random() < seen[key]]
    told = {key: strength for key, strength in seen.items() if key not in INDICATIONS}
    found = [rng.choice(reported)] if reported else []
    if told and (not found or rng.random() < 0.5):
        found.append(rng.choices(list(told), list(told.values()))[0])
        if rng.random() < 0.25:
            found.append(rng.choices(list(told), list(told.values()))[0])
    return tuple(dict.fromkeys(found))
