"""Random visits under the eyes of the watcher: a technician who answers, errs, interrupts, leaves and comes back."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import get_args

from assistant.dialogue import facts as f
from assistant.dialogue.step import Elapsed, Event, Opened, Resumed, Words, expected
from assistant.dialogue.turn import Turn
from assistant.language.meaning import (
    BackQuestion,
    BackTopic,
    Cannot,
    CannotReason,
    Command,
    Expectation,
    Finding,
    Heard,
    Meaning,
    Readings,
)
from assistant.visit.session import Knowledgeable
from tests.dialogue.walker import random_heard
from tests.safety.programs import NAMES, Alone, Programs
from tests.safety.rules import Break
from tests.safety.watcher import Watcher

_EARS = (("one", "some words"), ("two", "some words"))
#: One visit in so many is led by several programs, one after the other, with its journal on the disk.
_BY_PROGRAMS = 10
#: What a visit may be for, as the grammar of commands has it.
KINDS = ("repair", "commissioning", "maintenance", "leak-check", "return", "removal")
_ASKED_ANYWHERE = ("is-it-safe", "wait", "repeat", "where-am-i", "go-back", "skip", "finish", "power-back")

#: What has to happen in random visits for them to mean anything, each as ``Watched.met`` counts it.
WANTED = (
    "skipped",
    "gone back",
    "corrected",
    "emergency",
    "resumed",
    "resumed after long",
    "taken over",
    "held",
    "power back",
    "refused",
    "told unasked",
    "out of range",
    "hazard",
    "proved dead",
    "hands in",
    "power on",
    "repaired",
    "proof",
    "second program refused",
    "another program goes on",
    *(f"visit for {kind}" for kind in KINDS),
)


@dataclass
class Watched:
    """How one visit went: how many utterances, how it ended, the breaks with the turn at which each was seen.

    ``met``: how often each of WANTED came about.
    """

    seed: int
    turns: int = 0
    closing: str = ""
    breaks: list[tuple[int, Break]] = field(default_factory=list)
    met: Counter[str] = field(default_factory=Counter)


def _sure(meaning: Meaning) -> Heard:
    return Heard(words="some words", meaning=meaning, trust="sure", ears=_EARS)


def says(rng: random.Random, now: Expectation) -> Heard:
    """One utterance: willing more often than the dialogue's own walker, so that visits get to hands and power."""
    draw = rng.random()
    if draw < 0.02:
        return _sure(BackQuestion(topic=rng.choice(get_args(BackTopic))))
    if draw < 0.05:
        return _sure(Command(name=rng.choice(_ASKED_ANYWHERE)))
    if draw < 0.06:
        return _sure(Cannot(reason=rng.choice(get_args(CannotReason))))
    if now.question == "visit.indication" and draw < 0.3:
        return _sure(Command(name=f"job-{rng.choice(KINDS)}"))
    willing = [choice.id for choice in now.choices if choice.id in ("understood", "done", "yes")]
    if willing and draw < 0.6:
        return _sure(Finding(choice=willing[0]))
    return random_heard(rng, now)


def watch(context: Knowledgeable, seed: int, turns: int = 110) -> Watched:
    """Lead one random visit and watch it."""
    rng = random.Random(f"watched {seed}")
    watcher, out, now_s = Watcher(context.library), Watched(seed), 0.0
    led = Programs(context, rng) if seed % _BY_PROGRAMS == 0 else Alone(context)

    def take(event: Event) -> None:
        nonlocal now_s
        happened, turn = led.do(event)
        now_s = max(now_s, happened.now_s)  # who was away comes back later
        if turn is not None:
            out.breaks += [(out.turns, each) for each in watcher.see(happened, turn)]
            out.met.update(_met(happened, turn))

    try:
        take(Opened("watched"))
        while out.turns < turns and not led.state.closing:
            out.turns += 1
            now_s += rng.choice([2.0, 5.0, 5.0, 30.0, 400.0])
            if led.state.held and rng.random() < 0.4:
                now_s += rng.choice([60.0, 1500.0, 15000.0])
            if rng.random() < 0.05:
                take(Elapsed(now_s))
            if rng.random() < 0.03:
                take(Resumed(now_s, rng.choice([None, 20.0, 60.0, 5000.0]), rng.choice(NAMES)))
            now = expected(context, led.state)
            heard = says(rng, now)
            out.met["out of range"] += _is_out_of_range(heard.meaning, now)
            take(Words(heard, now_s))
        out.closing = led.state.closing or "left open"
        out.met[f"visit for {led.state.job.course or led.state.job.visit_kind or 'repair'}"] += 1
        if isinstance(led, Programs):
            out.breaks += [(out.turns, Break("one-writer", fault)) for fault in led.faults]
            out.met["second program refused"] += led.refused
            out.met["another program goes on"] += led.changes
    finally:
        led.close()
    return out


def _met(event: Event, turn: Turn) -> Iterator[str]:
    if isinstance(event, Resumed):
        yield "resumed"
        if event.away_s is None or event.away_s > 900:
            yield "resumed after long"
    if isinstance(event, Words) and isinstance(event.heard.meaning, Cannot):
        yield "refused"
    if any(reply.message is not None and reply.message.id == "hands-off" for reply in turn.replies):
        yield "power back"
    for fact in turn.facts:
        match fact:
            case f.CheckDescribed(energy="proved-dead"):
                yield "hands in"
            case f.CheckJudged(check="restore-power"):
                yield "power on"
            case f.EnergyChanged(to="proved-dead"):
                yield "proved dead"
            case f.AnswerGiven() if fact.replaces is not None:
                yield "corrected"
            case f.RepairDone(done=True):
                yield "repaired"
            case _ if type(fact) in _FACTS:
                yield _FACTS[type(fact)]


_FACTS = {
    f.CheckSkipped: "skipped",
    f.WentBack: "gone back",
    f.EmergencyCalled: "emergency",
    f.TakenOver: "taken over",
    f.Held: "held",
    f.FactTold: "told unasked",
    f.HazardRaised: "hazard",
    f.ProofBegun: "proof",
}


def _is_out_of_range(meaning: Meaning | None, now: Expectation) -> bool:
    if not isinstance(meaning, Readings) or now.reading is None:
        return False
    low, high = now.reading.plausible
    return any(one.value is not None and not low <= one.value <= high for one in meaning.items)
