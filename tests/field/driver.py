"""One visit led through the dialogue: every question is answered in meanings, by the world and its technician.

Kept thin, since the dialogue grows: what it does not know it answers with the plainest choice, and says so.
"""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import replace
from typing import cast

from assistant.dialogue import facts as f
from assistant.dialogue.state import Stage, VisitState
from assistant.dialogue.step import Elapsed, Event, Opened, Words, expected, step
from assistant.dialogue.turn import Context, Turn
from assistant.language.meaning import (
    Cannot,
    Command,
    Expectation,
    Finding,
    Heard,
    Indication,
    Meaning,
    Text,
)
from assistant.library.loader import Library
from assistant.library.profile import UnitProfile
from assistant.visit.session import Knowledgeable
from tests.field.adapter import answer, known, symptom_of
from tests.field.outcome import Outcome
from tests.field.patience import NeverAnswers, Patient
from tests.field.people import words
from tests.field.people.technician import Habits, Technician
from tests.field.profiles import profile_of
from tests.field.terms import asked_of, brief, canonical, meaning_of, own
from tests.field.work import work_of
from tests.field.world import World

_MOST_TURNS = 500
_TURN_S = 6.0
_REPAIR_S = 1800.0
#: After so much check time a technician gives up and finishes.
_PATIENCE_MIN = 240.0
#: Plain answers to what the driver does not know, the best first.
_PLAINLY = ("understood", "ready", "done", "repair", "yes", "none", "no")


def knowing(library: Library, profiles: Mapping[str, UnitProfile]) -> Knowledgeable:
    """The program with the simulator's units among its profiles."""
    return Knowledgeable(replace(library, profiles={**library.profiles, **profiles}))


class Visit:
    """Drives the dialogue with a world. ``with_profile`` false: the technician has no manual of this unit."""

    def __init__(
        self, context: Knowledgeable, world: World, seed: int, with_profile: bool = True, habits: Habits | None = None
    ) -> None:
        self._patient = Patient(context)
        self.context = cast(Context, self._patient)
        self.world = world
        self.rng = random.Random(f"visit {seed}")
        self.technician = Technician(random.Random(f"technician {seed}"), habits or Habits())
        self.with_profile = with_profile
        self.state = VisitState()
        self.truth = world.truth()
        self.outcome = Outcome(seed, world.site.unit, self.truth.faults, world.complaint())
        self.told: list[str] = []
        self._judged: list[str] = []
        self._mended: set[str] = set()
        self._took_likeliest = False
        self._words = ""
        self._asks = ""
        self._unable_at = ""

    def run(self) -> Outcome:
        """The whole visit, to its end or until it turns too long."""
        self._do(Opened("field"))
        hung = False
        for _ in range(_MOST_TURNS):
            if self.state.stage is Stage.CLOSED:
                break
            try:
                self._turn()
            except NeverAnswers:
                hung = True
                self.outcome.turns.append("  (no reply ever comes)")
                break
        left = self.world.still_wrong()
        self.outcome.mended = not left
        self.outcome.hazards = self.world.hazards
        self._compare()
        self.outcome.closing = "hung" if hung else self.state.closing or "left open"
        return self.outcome

    def _compare(self) -> None:
        """Which suspects of the program would have been right, and how likely it thought them at the end."""
        turn = Turn(self.context, self.state, self.world.now_s)
        self._patient.begin()
        ranked = dict(turn.reasoner.ranked(turn.belief()))
        right = {name for name in self.context.library.suspects if self._is_right(name)}
        self.outcome.suspects = tuple(sorted(right & ranked.keys()))
        self.outcome.chance = sum(ranked[name] for name in self.outcome.suspects)

    def _is_right(self, suspect_id: str) -> bool:
        return any(name in self.truth.mends for name in self._works(suspect_id))

    def _works(self, suspect_id: str) -> tuple[str, ...]:
        suspect = self.context.library.suspects[suspect_id]
        return work_of(suspect.id, suspect.name, suspect.component, suspect.repair.say)

    # ---- one turn ------------------------------------------------------------------------------------------------

    def _turn(self) -> None:
        now = expected(self.context, self.state)
        if self.state.wait_until_s is not None and now.question.endswith(".wait"):
            self.world.pass_time(max(0.0, self.state.wait_until_s - self.world.now_s))
            self._do(Elapsed(self.world.now_s))
            return
        self._words = ""
        given_up = self.outcome.minutes > _PATIENCE_MIN and now.question not in ("confirm", "visit.finish")
        if given_up and not now.question.startswith(("precaution.", "visit.customer")):
            self.outcome.gave_up = True
            self._say(Command(name="finish"))
            return
        self._say(self._meaning(now))

    def _meaning(self, now: Expectation) -> Meaning:
        question = now.question
        if question in ("confirm", "visit.finish"):
            return Finding(choice="yes")
        if question == "held":
            return Command(name="resume")
        if question.startswith("precaution."):
            return Finding(choice="understood")
        if question.startswith("visit."):
            return self._of_stage(now)
        if question == "aside.reports":
            return self._report()
        if question == "aside.plate-breaker-a":
            return Cannot(reason="dont-know")
        if question.startswith("repair."):
            return self._mend(now)
        return self._of_check(now)

    def _of_stage(self, now: Expectation) -> Meaning:
        stage = now.question.removeprefix("visit.")
        choices = [choice.id for choice in now.choices]
        plate = self.world.machine.plate
        match stage:
            case "site":
                return Text(words="the house on the corner")
            case "profile":
                return Finding(choice=profile_of(self.world.sound).id if self.with_profile else "no-profile")
            case "supply":
                return Finding(choice=plate.system)
            case "refrigerant":
                return Finding(choice=plate.fluid)
            case "altitude":
                return Finding(choice="sea-level")
            case "zone":
                return Finding(choice=f"zone-{self.world.machine.at + 1}")
            case "indication":
                return self._complain(choices) or Command(name="finish")
            case "unsolved":
                return self._unsolved(choices)
            case "repair-note":
                return Text(words="did what you said")
            case "customer-note":
                return Finding(choice="nothing")
        return self._plainly(now)

    def _complain(self, choices: list[str]) -> Meaning | None:
        """The next sign that the technician has not told: the complaint first, then what shows most."""
        shown = self.world.site.signs_bad if not self.told else self.world.signs(bad=True)
        signs = [self.world.complaint()] if not self.told else []
        signs += sorted(shown, key=lambda sign: -shown[sign])
        for sign in signs:
            symptom = symptom_of(sign)
            if sign not in self.told and symptom in choices:
                self.told.append(sign)
                self._words = words.complaint(sign, self.rng)
                return Indication(choice=symptom)
        return None

    def _report(self) -> Meaning:
        """What the display tells besides the complaint, or nothing."""
        sign = f"shows:{self.world.look('what the display tells')}"
        symptom = symptom_of(sign)
        if symptom is None or self.world.look("display") != "normal":
            self._words = "nothing"
            return Indication(choice="nothing")
        self.told.append(sign)
        self._words = words.complaint(sign, self.rng)
        return Indication(choice=symptom)

    def _unsolved(self, choices: list[str]) -> Meaning:
        """Tell one thing more that shows; then take the likeliest where it is offered; then give up."""
        if len(self.told) < 2:
            more = self._complain(choices)
            if more is not None:
                return more
        if "mend-likeliest" in choices and not self._took_likeliest:
            self._took_likeliest = True
            return Indication(choice="mend-likeliest")
        return Command(name="finish")

    def _of_check(self, now: Expectation) -> Meaning:
        asked = asked_of(now, self._asks)
        if not known(asked):
            self.outcome.strange.append(asked.key)
        if self._unable_at == now.question:  # it was told so, and asks again
            self._unable_at = ""
            return Command(name="skip")
        self._unable_at = ""  # what was out of reach then may be in reach when it is asked again later
        reply = answer(self.world, self.technician, asked, canonical, own)
        if reply is None or reply.cannot is not None:
            (self.outcome.undecided if reply is None else self.outcome.unknown).append(asked.key)
            self._words = reply.words if reply else "I don't know"
            self._unable_at = now.question
            return Cannot(reason=reply.cannot if reply and reply.cannot else "dont-know")
        self.outcome.slips += reply.slip
        self._words = reply.words
        return meaning_of(reply, now)

    def _mend(self, now: Expectation) -> Meaning:
        suspect = self.context.library.suspects[self.state.suspect or ""]
        if suspect.id in self._mended:  # "I've done that already"
            return Finding(choice="not-possible")
        self._mended.add(suspect.id)
        names = self._works(suspect.id)
        if not names:
            self.outcome.not_understood.append(f"{suspect.id}: {suspect.name} | {suspect.repair.say}")
        for name in names:
            self.outcome.repairs.append(name)
            if self.world.repair(name):
                break
        if self.outcome.minutes_to_mend is None and not self.world.still_wrong():
            self.outcome.minutes_to_mend = self.outcome.minutes
        self.world.pass_time(_REPAIR_S)
        return Finding(choice="done")

    def _plainly(self, now: Expectation) -> Meaning:
        self.outcome.strange.append(now.question)
        choices = [choice.id for choice in now.choices]
        plain = next((choice for choice in _PLAINLY if choice in choices), choices[0] if choices else None)
        if plain is not None:
            return Finding(choice=plain)
        return Text(words="fine") if now.text else Command(name="skip")

    # ---- the dialogue ----------------------------------------------------------------------------------------------

    def _say(self, meaning: Meaning) -> None:
        self.world.pass_time(_TURN_S)
        said = self._words or "words"
        heard = Heard(words=said, meaning=meaning, trust="sure", ears=(("one", said), ("two", said)))
        self.outcome.turns.append(f"  > {said} [{brief(meaning)}]")
        self._do(Words(heard, self.world.now_s))

    def _do(self, event: Event) -> None:
        self._patient.begin()
        turn = step(self.context, self.state, event)
        self.state = turn.state
        if turn.replies:
            self._asks = turn.replies[-1].text
        self.outcome.words += sum(len(reply.text.split()) for reply in turn.replies)
        self.outcome.turns += [f"{reply.about}: {reply.text}" for reply in turn.replies]
        for fact in turn.facts:
            self._note(fact)

    def _note(self, fact: f.Fact) -> None:
        match fact:
            case f.CheckDescribed(check=name):
                minutes = self.context.library.checks[name].minutes
                self.world.pass_time(60 * minutes)
                self.outcome.minutes += minutes
                self.outcome.course.append(name)
                self.outcome.lock_outs += name == "lock-out-power"
            case f.CheckStarted(check=name, role=role, again=again) if role in ("diagnosis", "asked"):
                if name in self._judged and not again:
                    self.outcome.asked_twice.append(name)
            case f.CheckJudged(check=name, role=role) if role in ("diagnosis", "asked"):
                self._judged.append(name)
            case f.RepairDone():
                self._judged.clear()
            case f.FaultNamed(suspect=name) if name:
                self._named(name)

    def _named(self, suspect_id: str) -> None:
        if not self.outcome.named:
            self.outcome.minutes_to_first = self.outcome.minutes
        self.outcome.named.append(suspect_id)
        right = self._is_right(suspect_id)
        if len(self.outcome.named) == 1:
            self.outcome.first_was_right = right
        self.outcome.right = self.outcome.right or right
        if not right:
            self.outcome.condemned += [name for name in self._works(suspect_id)[:1] if name in self.truth.wasteful]
