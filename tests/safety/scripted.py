"""A visit led by hand under the eyes of the watcher: a willing technician who goes straight to what is asked of him."""

from __future__ import annotations

from dataclasses import dataclass, field

from assistant.dialogue import facts as f
from assistant.dialogue.evolve import fold
from assistant.dialogue.state import VisitState
from assistant.dialogue.step import Event, Opened, Resumed, Words, expected, step
from assistant.dialogue.turn import Context, Turn
from assistant.language.meaning import (
    CANONICAL_UNIT,
    Command,
    Emergency,
    EmergencyKind,
    Finding,
    Heard,
    Indication,
    Meaning,
    Reading,
    Readings,
    Text,
)
from tests.safety.rules import Break
from tests.safety.watcher import Watcher

#: What a willing technician reads of a place that is dead, in V.
WILLING_V = 0.4


@dataclass
class Led:
    """One visit. ``breaks`` are the rules it broke so far, ``said`` the replies of the last turn."""

    context: Context
    breaks: list[Break] = field(default_factory=list)
    said: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.state = VisitState()
        self.now_s = 0.0
        self.watcher = Watcher(self.context.library)
        self._take(Opened("led"))

    def begin(self, symptom: str = "no-communication", unit: str = "copper-wren-solo") -> Led:
        """Site, unit and what it shows."""
        self.say(Text(words="mill lane"))
        self.choose(unit)
        return self.say(Indication(choice=symptom))

    def say(self, meaning: Meaning) -> Led:
        self.now_s += 5
        ears = (("one", "words"), ("two", "words"))
        self._take(Words(Heard(words="words", meaning=meaning, trust="sure", ears=ears), self.now_s))
        return self

    def choose(self, choice: str) -> Led:
        return self.say(Finding(choice=choice))

    def ask(self, command: str, argument: str = "") -> Led:
        return self.say(Command(name=command, argument=argument))

    def call(self, emergency: EmergencyKind) -> Led:
        return self.say(Emergency(what=emergency))

    def read(self, *values: float) -> Led:
        """A reading for each place that is asked for, or the one reading."""
        wanted = expected(self.context, self.state).reading
        assert wanted is not None, f"no reading is asked at {self.question}"
        unit = CANONICAL_UNIT[wanted.quantity]
        places: list[str | None] = [place.id for place in wanted.places] or [None]
        items = [
            Reading(quantity=wanted.quantity, value=value, spoken_value=value, spoken_unit=unit, place=place)
            for value, place in zip(values, places, strict=False)
        ]
        return self.say(Readings(items=tuple(items)))

    def wait(self, seconds: float) -> Led:
        self.now_s += seconds
        return self

    def resume(self, away_s: float | None) -> Led:
        self._take(Resumed(self.now_s, away_s))
        return self

    def to(self, question: str, most: int = 60) -> Led:
        """Whatever leads to a question, answered willingly: locked, dead, back on. Stops when there is no way."""
        for _ in range(most):
            now = expected(self.context, self.state)
            if now.question.startswith(question) and not self.state.acknowledging:
                return self
            ids = [choice.id for choice in now.choices]
            if "understood" in ids:
                self.choose("understood")
            elif now.reading is not None:
                self.read(*[WILLING_V] * max(1, len(now.reading.places)))
            elif {"done", "yes"} & set(ids):
                self.choose("done" if "done" in ids else "yes")
            else:
                return self
        return self

    def check(self, name: str, question: str = "") -> Led:
        """Ask for a check by name and go on to it."""
        return self.ask("check", name).to(question or name)

    def repair(self, suspect: str) -> Led:
        """A fault was named: go on to its repair."""
        named = f.FaultNamed(suspect=suspect, probability=0.97, reason="led there")
        dropped = [f.RunDropped(check=self.state.run.check)] if self.state.run else []
        self.state = fold([*dropped, named], self.state)
        return self.ask("finish").choose("no").to("visit.repair")

    @property
    def question(self) -> str:
        return expected(self.context, self.state).question

    @property
    def broken(self) -> set[str]:
        """The names of the rules that were broken."""
        return {each.rule for each in self.breaks}

    def _take(self, event: Event) -> Turn:
        turn = step(self.context, self.state, event)
        self.state = turn.state
        self.said = [reply.text for reply in turn.replies]
        self.breaks += self.watcher.see(event, turn)
        return turn
