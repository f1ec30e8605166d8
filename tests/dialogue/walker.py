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
from typing import get_args

from assistant.dialogue import commands
from assistant.dialogue import facts as f
from assistant.dialogue.energy import Absent, place_key
from assistant.dialogue.scope import tellable
from assistant.dialogue.state import VisitState
from assistant.dialogue.step import Elapsed, Opened, Resumed, Words, expected, present_question, step
from assistant.dialogue.turn import Context, Turn
from assistant.language.meaning import (
    CANONICAL_UNIT,
    Cannot,
    CannotReason,
    Command,
    Correction,
    Emergency,
    EmergencyKind,
    Expectation,
    Finding,
    Heard,
    Indication,
    Meaning,
    Reading,
    ReadingExpectation,
    Readings,
    Text,
    Told,
    ToldAnswer,
    ToldFact,
    Trust,
)
from assistant.library.demand import Demand, cautions_of, demand_of
from assistant.library.loader import Library, load
from assistant.library.models import Check, Repair
from assistant.library.profile import features_of
from assistant.messages.catalogue import sentence
from assistant.messages.message import Message
from assistant.review.wording import LONGEST_SECONDS
from assistant.speaking.text import seconds
from assistant.visit.session import Knowledgeable

#: "About eight seconds" (design, promise 3): what knowledge writes keeps to eight, a sum may end in a long number.
ABOUT_SECONDS = LONGEST_SECONDS + 0.5
#: So few characters never take that long, whatever numbers are among them; timing them all would double the walk.
SURELY_SHORT = 40
_seconds = lru_cache(maxsize=None)(seconds)
NONSENSE = Command(name="nonsense")
COMMANDS = (*commands.commands(load()), NONSENSE.name)


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


def _places(wanted: ReadingExpectation) -> list[str | None]:
    return [place.id for place in wanted.places] or [None]


def dead_readings(rng: random.Random, wanted: ReadingExpectation) -> Readings:
    """What a dead place reads nearly always."""
    unit = CANONICAL_UNIT[wanted.quantity]
    values = [round(rng.uniform(0, 4), 1) for _ in wanted.places or (None,)]
    items = [
        Reading(quantity=wanted.quantity, value=value, spoken_value=value, spoken_unit=unit, place=place)
        for value, place in zip(values, _places(wanted), strict=True)
    ]
    return Readings(items=tuple(items))


def random_meaning(rng: random.Random, now: Expectation) -> Meaning:
    """An answer to the question most of the time; else a command, a correction or a jump to a named check."""
    draw = rng.random()
    if now.question == "held":
        return Command(name="resume" if draw < 0.7 else "skip")
    if now.question.startswith(("mains-dead", "prove-dead")) and now.reading and draw < 0.9:
        return dead_readings(rng, now.reading)  # else a proof would hardly ever be made
    if draw > 0.994:
        return Emergency(what=rng.choice(get_args(EmergencyKind)))
    if draw > 0.97:
        return Told(facts=tuple(random_fact(rng) for _ in range(rng.choice([1, 1, 2]))))
    if draw > 0.955:
        return Cannot(reason=rng.choice(get_args(CannotReason)))
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


@lru_cache(maxsize=1)
def _tellable() -> tuple[Expectation, ...]:
    return tuple(tellable(load()).questions.values())


def random_fact(rng: random.Random) -> ToldFact:
    """Something told unasked: a symptom, or an answer to any check but those of the energy."""
    asked = rng.choice(_tellable())
    if asked.choices:
        return ToldAnswer(question=asked.question, answer=Finding(choice=rng.choice(asked.choices).id))
    if asked.reading:
        return ToldAnswer(question=asked.question, answer=random_readings(rng, asked.reading))
    return Indication(choice=rng.choice(tellable(load()).indications).id)


def random_heard(rng: random.Random, now: Expectation) -> Heard:
    """What the ears might hand over: mostly sure, sometimes doubtful, near several meanings, or useless."""
    meaning = random_meaning(rng, now)
    if rng.random() < 0.02:
        options = tuple(dict.fromkeys((meaning, random_meaning(rng, now))))
        if len(options) > 1 and NONSENSE not in options:
            ears = (("one", "some words"), ("two", "some words"))
            return Heard(words="some words", meaning=meaning, options=options, trust="confirm", ears=ears)
    trust = rng.choices(get_args(Trust), [0.85, 0.1, 0.05])[0]
    if meaning == NONSENSE:  # no grammar has it, so no ear can be in doubt about it
        trust = "sure"
    return Heard(words="some words", meaning=meaning, trust=trust, ears=(("one", "some words"), ("two", "some words")))


#: A place may be touched below these, in V, whatever the knowledge says: IEC 60364-4-41, 414.4.5 (from memory).
DEAD_V = {"mains": 12.0, "stored": 30.0}
#: What shows a place dead when its procedures do not tell: the disconnect holds no charge.
SHOWN_AT = {"supply": {"mains"}}


@dataclass
class Watch:
    """The safety promises, checked from the facts alone."""

    library: Library
    said: set[str] = field(default_factory=set)
    locked: bool = False
    dead: set[str] = field(default_factory=set)
    shown: dict[tuple[str, Absent], float] = field(default_factory=dict)
    read_v: set[float] = field(default_factory=set)
    barred: dict[str, frozenset[str]] = field(default_factory=dict)
    clearing: set[str] = field(default_factory=set)
    off: set[str] = field(default_factory=set)
    circuit: set[str] = field(default_factory=lambda: {"charged"})
    acknowledged: set[str] = field(default_factory=set)
    waiting: set[str] = field(default_factory=set)
    held_at_s: float | None = None
    towards: str = ""
    judged: list[str] = field(default_factory=list)
    doubted: set[str] = field(default_factory=set)
    running: str = ""
    correcting: bool = False

    def see(self, turn: Turn) -> None:
        """Look at one turn's facts in order; raises AssertionError at the first broken promise."""
        for fact in turn.facts:
            match fact:
                case f.Said(text=text):
                    self._spoken(text)
                case f.CheckStarted(check=name, role=role, again=again, towards=towards):
                    self.towards = towards
                    if role == "diagnosis":
                        self._asked(name, again)
                case f.CheckJudged(check=name) if name == self.running and not self.correcting:
                    self.judged.append(name)
                    self.running = ""
                case f.AnswersDoubted(check=name):
                    self.doubted.add(name)
                    self.judged = [other for other in self.judged if other != name]
                case f.WentBack():
                    self.judged.clear()
                    self.waiting.clear()
                case f.CheckSkipped() | f.RunDropped() | f.CheckAskedFor() | f.StageEntered() | f.EmergencyCalled():
                    self.waiting.clear()
                case f.FinishAsked():
                    self.waiting.clear()
                case f.RepairDone():
                    self.judged.clear()
                case f.PrecautionGiven(precaution=name, waits=True):
                    self.waiting.add(name)
                case f.PrecautionAcknowledged(precaution=name):
                    assert name in self.waiting, f"{name} was acknowledged without being said"
                    self.waiting.discard(name)
                    self.acknowledged.add(name)
                case f.CheckDescribed(check=name):
                    self._described(self.library.checks[name], name, turn)
                case f.RepairDescribed(suspect=name):
                    self._described(self.library.suspects[name].repair, name, turn)
                case f.AnswerGiven():
                    self._answered(fact, turn)
                case f.VoltageMeasured():
                    self._measured(fact)
                case f.ProofDoubted(place=place):
                    self._unproved(place)
                case f.EnergyChanged(to=to, place=place):
                    self._energy_changes(to, place)
                    if to == "live":  # the step under way is dropped with its cautions: the way leads to it anew
                        self.waiting.clear()
                case f.HazardRaised(hazard=name):
                    self.barred[name] = frozenset(self.library.hazards[name].bars)
                    self.clearing |= {check for check, _ in fact.cleared_by}
                case f.HazardCleared(hazard=name, by=by):
                    self._cleared(name, by, turn)
                case f.TakenOff(things=things):
                    self.off |= set(things)
                case f.PutBack(things=things):
                    self.off -= set(things)
                case f.CircuitChanged(to=to, certain=certain):
                    self.circuit = {to} if certain else {*self.circuit, to}
                case f.Held(at_s=at_s):
                    self.held_at_s = at_s if self.held_at_s is None else self.held_at_s
                case f.Released():
                    self._released(turn)
                case f.VisitClosed(left=left):
                    self._closed(left)
        run = turn.state.run
        came_back = any(isinstance(fact, f.WentBack | f.Reopened) for fact in turn.facts)
        begun = {fact.check for fact in turn.facts if isinstance(fact, f.CheckStarted)}  # anew, and not come back to
        if came_back and run is not None and run.described and run.check not in begun and not turn.state.acknowledging:
            now = {fact.text for fact in turn.facts if isinstance(fact, f.Said)}
            self._cautioned(self.library.checks[run.check], f"come back to, {run.check}", turn, now)
        if turn.state.acknowledging:
            beside = (turn.state.unconfirmed, turn.state.correcting, turn.state.emergency, turn.state.finishing)
            assert not any(beside), "a question is open beside a caution"

    def _spoken(self, text: str) -> None:
        self.said.add(text)
        for part in re.split(r"(?<=[.?!:;])\s+", text):
            assert len(part.split()) <= 25, f"too long: {part}"
        asked_back = text.startswith("I heard ")  # as long as what was said in one breath
        short = len(text) < SURELY_SHORT
        assert asked_back or short or _seconds(text) <= ABOUT_SECONDS, f"takes {_seconds(text):.1f} s to say: {text}"

    def _asked(self, name: str, again: bool) -> None:
        if name not in self.clearing:  # what frees the power is asked until it does
            cause = f"{name} was asked again without a cause"
            assert name not in self.judged or name in self.doubted or again, cause
            assert not again or self.judged.count(name) < 2, f"{name} was asked a third time"
        self.running = name

    def _answered(self, fact: f.AnswerGiven, turn: Turn) -> None:
        self.correcting = fact.replaces is not None
        if not isinstance(fact.answer, Reading):
            return
        if fact.answer.value is not None:
            self.read_v.add(abs(fact.answer.value))
        if fact.how == "two ears":
            assert turn.facts[0].kind == "words-heard"
            assert turn.facts[0].heard.trust == "sure", "a doubtful reading was recorded without asking"

    # -- power ----------------------------------------------------------------------------------------------------

    def _measured(self, fact: f.VoltageMeasured) -> None:
        alone = fact.volts in self.read_v
        added = any(abs(one + other - fact.volts) < 1e-6 for one in self.read_v for other in self.read_v)
        assert alone or added, f"{fact.volts} V was never read"
        if not fact.absent:
            self._unproved(fact.place, fact.what)
            return
        assert fact.volts < DEAD_V[fact.what], f"{fact.volts} V of {fact.what} was taken for none"
        assert self.locked, "a voltage was shown absent on a unit that is not locked"
        self.shown[fact.place, fact.what] = fact.volts

    def _unproved(self, place: str, what: str = "") -> None:
        self.dead.discard(place)
        for key in [key for key in self.shown if key[0] == place and what in ("", key[1])]:
            del self.shown[key]

    def _energy_changes(self, to: str, place: str) -> None:
        if to == "live":
            self.locked, self.dead, self.shown = False, set(), {}
        elif to == "isolated":
            self.locked, self.dead, self.shown = True, set(), {}
        else:
            assert self.locked, "proved dead without being locked out"
            wanted = SHOWN_AT.get(place, {"mains", "stored"})
            got = {what for at, what in self.shown if at == place}
            assert wanted <= got, f"{place} was proved dead by {got or 'nothing'}"
            self.dead.add(place)

    def at(self, place: str) -> str:
        if not self.locked:
            return "live"
        return "proved-dead" if place in self.dead else "isolated"

    def lowered(self, turn: Turn) -> None:
        """Going back may only make the state less safe; anything else without a fact is a broken promise."""
        power = turn.state.power
        if any(isinstance(fact, f.WentBack) for fact in turn.facts):
            assert set(power.dead) <= self.dead, "going back made a place safer"
            assert self.locked or not power.locked, "going back locked the unit"
            self.locked, self.dead = power.locked, set(power.dead)
            self.shown = {key: volts for key, volts in self.shown.items() if power.has_shown(*key)}
            assert {item.hazard for item in turn.state.hazards} >= set(self.barred), "going back cleared a hazard"
            assert {item.thing for item in turn.state.off} >= self.off, "going back put something back"
            for item in turn.state.hazards:
                self.barred.setdefault(item.hazard, frozenset(self.library.hazards[item.hazard].bars))
            self.off = {item.thing for item in turn.state.off}
            assert set(turn.state.circuit) >= self.circuit, "going back made the circuit certain"
            self.circuit = set(turn.state.circuit)
        assert power.locked == self.locked, "the lock changed without a fact"
        assert set(power.dead) == self.dead, "a place was proved dead without a fact"
        assert {item.hazard for item in turn.state.hazards} == set(self.barred), "a hazard changed without a fact"
        assert {item.thing for item in turn.state.off} == self.off, "a thing moved without a fact"
        assert set(turn.state.circuit) == self.circuit, "the circuit changed without a fact"

    # -- steps ----------------------------------------------------------------------------------------------------

    def _described(self, step: Check | Repair, name: str, turn: Turn) -> None:
        assert not self.waiting, f"{name} was described while a caution waited"
        self._cautioned(step, name, turn)
        demand = demand_of(step)
        proving = getattr(step, "proves", None) is not None
        if demand.power == "live" and not proving and name != "restore-power":
            assert not self.locked, f"{name} needs power and was described while locked out"
        if demand.power in ("isolated", "proved-dead"):
            assert self.locked, f"{name} needs {demand.power} and was described while live"
        for at in demand.at:
            place = place_key(at, turn.state.zone)
            assert self.at(place) == "proved-dead", f"{name} puts hands to {place}, which is {self.at(place)}"
            below = demand.stored_below_v
            if below is not None and at == "outdoor":
                stored = turn.state.power.stored_v(place)
                assert stored is not None, f"{name}: the bus was never measured"
                assert abs(stored) < below, f"{name}: {stored} V on the bus, {below} V is the most"
        if demand.circuit:
            assert self.circuit <= set(demand.circuit), f"{name}: the circuit is {self.circuit}"
        self._not_barred(step, name, demand, proving)
        if name == "restore-power" or demand.power == "live" or demand.energizes:
            towards = self.library.checks.get(self.towards) if name == "restore-power" else None
            allowed = {*getattr(step, "with_off", ()), *(towards.with_off if towards else ())}
            assert self.off <= allowed, f"{name}: power with {self.off - allowed} off"
            assert self.circuit == {"charged"}, f"{name}: power with the circuit {self.circuit}"

    def _not_barred(self, step: Check | Repair, name: str, demand: Demand, proving: bool) -> None:
        clears = {hazard.id for hazard in self.library.hazards.values() if name in hazard.cleared_by}
        hits = set(demand.hits)
        if name == "restore-power":
            hits = {"power", "stay"}
        elif proving or name in ("lock-out-power", "put-back", "room-aired"):
            hits = {"stay"}
        for hazard, bars in self.barred.items():
            if hazard not in clears:
                assert not hits & bars, f"{name} was described though {hazard} bars it"

    def _cautioned(self, step: Check | Repair, what: str, turn: Turn, said: set[str] | None = None) -> None:
        spoken = self.said if said is None else said
        for name in cautions_of(step, self.library):
            precaution = self.library.precautions[name]
            if turn.profile is not None and not set(precaution.needs) <= features_of(turn.profile):
                continue  # the flammable gas of a unit that holds another gas
            if precaution.open not in (None, self._stands_open(turn)):
                continue  # a cover that stays off is not said to be on, nor the other way round
            forms = {" ".join(form.split()) for form in (precaution.say, precaution.again) if form}
            forms = {sentence(form) for form in forms}
            assert forms & spoken, f"{what} was described before its caution {name}"
            assert not precaution.acknowledge or name in self.acknowledged, f"{what}: {name} was not acknowledged"

    # -- hazards, holds and the end ---------------------------------------------------------------------------------

    def _stands_open(self, turn: Turn) -> bool:
        things = self.library.things
        return any(item.thing in things and things[item.thing].cover for item in turn.state.off)

    def _cleared(self, name: str, by: str, turn: Turn) -> None:
        assert not self.library.hazards[name].lasts or by == "misheard", f"{name} was cleared by {by}"
        if by != "misheard":
            judged = {fact.check for fact in turn.facts if isinstance(fact, f.CheckJudged) and fact.role != "told"}
            assert by in judged, f"{name} was cleared without its measurement"
        del self.barred[name]

    def _released(self, turn: Turn) -> None:
        assert self.held_at_s is not None
        if self.locked and turn.now_s - self.held_at_s > 900:
            to = [fact.to for fact in turn.facts if isinstance(fact, f.EnergyChanged)]
            assert to[:1] == ["live"], "a long hold left the unit as it was"
        self.held_at_s = None

    def _closed(self, left: tuple[Message, ...]) -> None:
        told = {item.id for item in left}
        assert ("left-barred" in told) == bool(self.barred), "the end does not say what bars"
        assert not self.locked or told & {"left-not-proved", "left-proved-dead"}, "the end does not tell of the lock"
        assert ("left-off" in told) == bool(self.off), "the end does not tell what is off"


def walk(context: Context, seed: int, turns: int = 120) -> tuple[VisitState, list[f.Fact]]:
    """One random visit under watch; returns its last state and all its facts."""
    rng = random.Random(seed)
    cuts = random.Random(f"cut short {seed}")  # apart, so that a seed is still the visit that it was
    watch = Watch(context.library)
    state = VisitState()
    facts: list[f.Fact] = []
    now_s = 0.0

    def take(turn: Turn) -> VisitState:
        watch.see(turn)
        watch.lowered(turn)
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
            state = take(step(context, state, Resumed(now_s, cuts.choice([None, 60.0, 5000.0]))))
        state = take(step(context, state, Words(random_heard(rng, now), now_s)))
    return state, facts


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
