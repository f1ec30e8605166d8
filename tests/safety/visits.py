"""Random visits under the eyes of the watcher: a technician who answers, errs, interrupts, leaves and comes back."""

from __future__ import annotations

import random
from dataclasses import dataclass, field
from typing import get_args

from assistant.dialogue.state import VisitState
from assistant.dialogue.step import Elapsed, Event, Opened, Resumed, Words, expected, step
from assistant.dialogue.turn import Context, Turn
from assistant.language.meaning import BackQuestion, BackTopic, Command, Expectation, Finding, Heard, Meaning
from tests.dialogue.walker import random_heard
from tests.safety.rules import Break
from tests.safety.watcher import Watcher

_EARS = (("one", "some words"), ("two", "some words"))


@dataclass
class Watched:
    """How one visit went: how many utterances, how it ended, the breaks with the turn at which each was seen."""

    seed: int
    turns: int = 0
    closing: str = ""
    breaks: list[tuple[int, Break]] = field(default_factory=list)


def _sure(meaning: Meaning) -> Heard:
    return Heard(words="some words", meaning=meaning, trust="sure", ears=_EARS)


def says(rng: random.Random, now: Expectation) -> Heard:
    """One utterance: willing more often than the dialogue's own walker, so that visits get to hands and power."""
    draw = rng.random()
    if draw < 0.02:
        return _sure(BackQuestion(topic=rng.choice(get_args(BackTopic))))
    if draw < 0.04:
        return _sure(Command(name=rng.choice(["is-it-safe", "wait", "repeat", "where-am-i", "go-back", "finish"])))
    willing = [choice.id for choice in now.choices if choice.id in ("understood", "done", "yes")]
    if willing and draw < 0.6:
        return _sure(Finding(choice=willing[0]))
    return random_heard(rng, now)


def watch(context: Context, seed: int, turns: int = 110) -> Watched:
    """Lead one random visit and watch it."""
    rng = random.Random(f"watched {seed}")
    watcher, out = Watcher(context.library), Watched(seed)
    state, now_s = VisitState(), 0.0

    def take(event: Event) -> Turn:
        turn = step(context, state, event)
        out.breaks += [(out.turns, each) for each in watcher.see(event, turn)]
        return turn

    state = take(Opened("watched")).state
    while out.turns < turns and not state.closing:
        out.turns += 1
        now_s += rng.choice([2.0, 5.0, 5.0, 30.0, 400.0])
        if state.held and rng.random() < 0.4:
            now_s += rng.choice([60.0, 1500.0, 15000.0])
        if rng.random() < 0.05:
            state = take(Elapsed(now_s)).state
        if rng.random() < 0.02:
            state = take(Resumed(now_s, rng.choice([None, 60.0, 5000.0]))).state
        state = take(Words(says(rng, expected(context, state)), now_s)).state
    out.closing = state.closing or "left open"
    return out
