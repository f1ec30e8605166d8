"""Random visits: ``python -m tests.dialogue.walker 20000`` walks that many; the tests walk some hundreds.

(With OPENBLAS_NUM_THREADS=1 it leaves the other cores alone and is no slower.)

A technician who answers anything the question admits, interrupts, corrects and gives up.

``Watch`` keeps its own books of the safety promise from nothing but the facts, so that a mistake in the dialogue's
state cannot hide itself.
"""

from __future__ import annotations

import random
import re
import sys
from collections import Counter
from dataclasses import dataclass, field
from functools import lru_cache

from assistant.dialogue import commands
from assistant.dialogue import facts as f
from assistant.dialogue.state import VisitState
from assistant.dialogue.step import Elapsed, Opened, Resumed, Words, expected, present_question, step
from assistant.dialogue.turn import Turn
from assistant.language.meaning import (
    CANONICAL_UNIT,
    Command,
    Correction,
    Expectation,
    Finding,
    Heard,
    Indication,
    Meaning,
    Reading,
    ReadingExpectation,
    Readings,
    Text,
)
from assistant.library.loader import load
from assistant.library.profile import features_of
from assistant.review.wording import LONGEST_SECONDS
from assistant.speaking.text import seconds
from assistant.visit.session import Knowledgeable

#: "About eight seconds" (design, promise 3): what knowledge writes keeps to eight, a sum may end in a long number.
ABOUT_SECONDS = LONGEST_SECONDS + 0.5
#: So few characters never take that long, whatever numbers are among them; timing them all would double the walk.
SURELY_SHORT = 40
_seconds = lru_cache(maxsize=None)(seconds)
COMMANDS = (*commands.COMMANDS, "nonsense")


def random_reading(rng: random.Random, wanted: ReadingExpectation, place: str | None) -> Reading:
    """Any reading the place could give, sometimes none, now and then one that it cannot give."""
    if wanted.open_line and rng.random() < 0.1:
        return Reading(
            quantity=wanted.quantity, value=None, spoken_value=None, spoken_unit="", special="open_line", place=place
        )
    low, high = wanted.plausible
    value = float(f"{rng.uniform(low, high) if rng.random() < 0.95 else high * 3 + 1:.4g}")  # as a meter shows it
    unit = CANONICAL_UNIT[wanted.quantity]
    return Reading(quantity=wanted.quantity, value=value, spoken_value=value, spoken_unit=unit, place=place)


def random_readings(rng: random.Random, wanted: ReadingExpectation) -> Readings:
    """One reading, or one for each place, with or without its name."""
    if not wanted.places:
        return Readings(items=(random_reading(rng, wanted, None),))
    places = [place.id for place in wanted.places][: rng.choice([1, 1, 2, len(wanted.places)])]
    named = rng.random() < 0.8
    return Readings(items=tuple(random_reading(rng, wanted, place if named else None) for place in places))


def random_meaning(rng: random.Random, now: Expectation) -> Meaning:
    """An answer to the question most of the time; else a command, a correction or a jump to a named check."""
    draw = rng.random()
    if now.question == "held":
        return Command(name="resume" if draw < 0.7 else "skip")
    if draw < 0.08:
        return Command(name=rng.choice(COMMANDS))
    if draw < 0.11 and now.checks:
        return Command(name="check", argument=rng.choice(now.checks).id)
    if draw < 0.15 and now.corrects:
        return Correction(meaning=Readings(items=(random_reading(rng, now.corrects, None),)))
    if draw < 0.18 and now.corrects_choices:
        return Correction(meaning=Finding(choice=rng.choice(now.corrects_choices).id))
    kinds = [kind for kind in ("reading", "choices", "text") if getattr(now, kind)]
    match rng.choice(kinds or ["nothing"]):
        case "reading":
            assert now.reading is not None
            return random_readings(rng, now.reading)
        case "choices":
            choice = rng.choice(now.choices).id
            return Indication(choice=choice) if now.choice_kind == "indication" else Finding(choice=choice)
        case "text":
            return Text(words="by the old mill")
    return Command(name="help")


def random_heard(rng: random.Random, now: Expectation) -> Heard:
    """What the ears might hand over: mostly sure, sometimes doubtful or useless."""
    meaning = random_meaning(rng, now)
    trust = rng.choices(["sure", "confirm", "again"], [0.85, 0.1, 0.05])[0]
    return Heard(words="some words", meaning=meaning, trust=trust, ears=(("one", "some words"), ("two", "some words")))


@dataclass
class Watch:
    """The safety promise, checked from the facts alone."""

    library: object
    said: set[str] = field(default_factory=set)
    energy: str = "live"
    acknowledged: set[str] = field(default_factory=set)
    last_dead_v: float | None = None
    judged: list[str] = field(default_factory=list)
    doubted: set[str] = field(default_factory=set)
    running: str = ""
    correcting: bool = False

    def see(self, turn: Turn) -> None:
        """Look at one turn's facts in order; raises AssertionError at the first broken promise."""
        for fact in turn.facts:
            match fact:
                case f.Said(text=text):
                    self.said.add(text)
                    for sentence in re.split(r"(?<=[.?!:;])\s+", text):
                        assert len(sentence.split()) <= 25, f"too long: {sentence}"
                    asked_back = text.startswith("I heard ")  # as long as what was said in one breath
                    short = len(text) < SURELY_SHORT
                    assert asked_back or short or _seconds(text) <= ABOUT_SECONDS, (
                        f"takes {_seconds(text):.1f} s to say: {text}"
                    )
                case f.CheckStarted(check=name, role="diagnosis", again=again):
                    cause = f"{name} was asked again without a cause"
                    assert name not in self.judged or name in self.doubted or again, cause
                    assert not again or self.judged.count(name) < 2, f"{name} was asked a third time"
                    self.running = name
                case f.CheckJudged(check=name) if name == self.running and not self.correcting:
                    self.judged.append(name)
                    self.running = ""
                case f.AnswersDoubted(check=name):
                    self.doubted.add(name)
                    self.judged = [other for other in self.judged if other != name]
                case f.WentBack() | f.RepairDone():
                    self.judged.clear()
                case f.PrecautionAcknowledged(precaution=name):
                    self.acknowledged.add(name)
                case f.CheckDescribed(check=name):
                    self._cautioned(self.library.checks[name].precautions, name, turn)
                    self._energy_fits(self.library.checks[name].energy, name, turn)
                case f.RepairDescribed(suspect=name):
                    repair = self.library.suspects[name].repair
                    self._cautioned(repair.precautions, name, turn)
                    self._energy_fits(repair.energy, name, turn)
                case f.AnswerGiven():
                    self._answered(fact, turn)
                case f.EnergyChanged(to=to):
                    self._energy_changes(to)
        run = turn.state.run
        came_back = any(isinstance(fact, f.WentBack | f.Reopened) for fact in turn.facts)
        if came_back and run is not None and run.described and turn.state.acknowledging is None:
            now = {fact.text for fact in turn.facts if isinstance(fact, f.Said)}
            self._cautioned(self.library.checks[run.check].precautions, f"come back to, {run.check}", turn, now)

    def _answered(self, fact: f.AnswerGiven, turn: Turn) -> None:
        self.correcting = fact.replaces is not None
        if not isinstance(fact.answer, Reading):
            return
        if fact.check == "prove-dead":
            self.last_dead_v = fact.answer.value
        if fact.how == "two ears":
            assert turn.facts[0].kind == "words-heard"
            assert turn.facts[0].heard.trust == "sure", "a doubtful reading was recorded without asking"

    def _cautioned(self, wanted: tuple[str, ...], what: str, turn: Turn, said: set[str] | None = None) -> None:
        spoken = self.said if said is None else said
        for name in wanted:
            precaution = self.library.precautions[name]
            if turn.profile is not None and not set(precaution.needs) <= features_of(turn.profile):
                continue  # the flammable gas of a unit that holds another gas
            assert " ".join(precaution.say.split()) in spoken, f"{what} was described before its caution {name}"
            assert not precaution.acknowledge or name in self.acknowledged, f"{what}: {name} was not acknowledged"

    def _energy_fits(self, needed: str, what: str, turn: Turn) -> None:
        allowed = {
            "any": {"live", "isolated", "proved-dead"},
            "live": {"live"},
            "isolated": {"isolated", "proved-dead"},
            "proved-dead": {"proved-dead"},
        }[needed]
        assert self.energy in allowed, f"{what} needs {needed} and was described while {self.energy}"
        if needed == "proved-dead":
            profile = turn.profile
            limit = profile.bus.dead_below_v if profile and profile.bus else 60
            assert self.last_dead_v is not None, f"{what} was described before the bus was measured"
            assert abs(self.last_dead_v) < limit, f"{what} was described at {self.last_dead_v} V"

    def _energy_changes(self, to: str) -> None:
        if to == "proved-dead":
            assert self.energy == "isolated", "proved dead without being locked out"
            assert self.last_dead_v is not None
        self.energy = to


def walk(context: object, seed: int, turns: int = 120) -> tuple[VisitState, list[f.Fact]]:
    """One random visit under watch; returns its last state and all its facts."""
    rng = random.Random(seed)
    cuts = random.Random(f"cut short {seed}")  # apart, so that a seed is still the visit that it was
    watch = Watch(context.library)
    state = VisitState()
    facts: list[f.Fact] = []
    now_s = 0.0

    def take(turn: Turn) -> VisitState:
        watch.see(turn)
        watch.energy = watch.energy if turn.state.energy == watch.energy else _lowered(watch, turn)
        facts.extend(turn.facts)
        return turn.state

    state = take(step(context, state, Opened("test")))
    for _ in range(turns):
        if state.closing:
            break
        now = expected(context, state)
        answerable = now.reading or now.choices or now.text or now.question == "held"
        assert answerable, f"seed {seed}: nothing can be answered at {now.question}"
        if not state.held and state.unconfirmed is None:
            assert present_question(Turn(context, state, now_s)), f"seed {seed}: silence at {now.question}"
        now_s += rng.choice([2.0, 5.0, 400.0])
        if rng.random() < 0.05:
            state = take(step(context, state, Elapsed(now_s)))
        if cuts.random() < 0.02:
            state = take(step(context, state, Resumed(now_s)))
        state = take(step(context, state, Words(random_heard(rng, now), now_s)))
    return state, facts


def _lowered(watch: Watch, turn: Turn) -> str:
    """Going back may only make the state less safe; anything else without a fact is a broken promise."""
    order = ["live", "isolated", "proved-dead"]
    assert any(isinstance(fact, f.WentBack) for fact in turn.facts), "the energy state changed without a fact"
    assert order.index(turn.state.energy) < order.index(watch.energy), "going back made the unit safer"
    return turn.state.energy


def main() -> None:
    """Walk the seeds named on the command line (FIRST LAST, or one number for 0 to it) and say what they came to."""
    first, last = (0, int(sys.argv[1])) if len(sys.argv) == 2 else (int(sys.argv[1]), int(sys.argv[2]))
    context = Knowledgeable(load())
    ends: Counter[str] = Counter()
    turns = broken = 0
    for seed in range(first, last):
        try:
            state, facts = walk(context, seed)
        except Exception as error:  # any break is a find: say the seed and walk on
            broken += 1
            print(f"seed {seed} broke: {type(error).__name__}: {error}", flush=True)
            continue
        ends[state.closing or "left open"] += 1
        turns += sum(isinstance(fact, f.WordsHeard) for fact in facts)
        if (seed + 1) % 500 == 0:
            print(f"{seed + 1 - first} visits, {turns} turns, {broken} broke a promise", flush=True)
    print(f"{last - first} visits, {turns} turns, {broken} broke a promise, the others ended {dict(ends)}")
    sys.exit(1 if broken else 0)


if __name__ == "__main__":
    main()
