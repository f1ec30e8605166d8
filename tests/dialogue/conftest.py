"""The shipped library with its reasoners, and a visit driven by meanings."""

from dataclasses import dataclass, field

import pytest

from assistant.dialogue.state import VisitState
from assistant.dialogue.step import Elapsed, Opened, Resumed, Words, expected, step
from assistant.language.meaning import (
    CANONICAL_UNIT,
    Command,
    Correction,
    Finding,
    Heard,
    Indication,
    Reading,
    Readings,
    Text,
)
from assistant.library.loader import load
from assistant.visit.session import Knowledgeable


@pytest.fixture(scope="session")
def context():
    return Knowledgeable(load())


#: The procedures that prove a place dead.
PROOFS = (
    "mains-dead-outdoor",
    "prove-dead",
    "prove-dead-series",
    "mains-dead-indoor",
    "prove-dead-indoor",
    "prove-dead-signal",
    "prove-dead-line",
    "prove-dead-supply",
)


@dataclass
class Visit:
    """Says meanings to the dialogue and keeps every fact and reply."""

    context: Knowledgeable
    state: VisitState = field(default_factory=VisitState)
    now_s: float = 0.0
    facts: list = field(default_factory=list)
    says: list = field(default_factory=list)

    def open(self):
        return self.do(Opened("test"))

    def reopen(self, away_s=None):
        return self.do(Resumed(self.now_s, away_s))

    def say(self, meaning, trust="sure", doubt="", chance=0.99, poor_sound=False):
        self.now_s += 5
        ears = (("whisper", "words"), ("phoneme", "words"))
        return self.hear(
            Heard(
                words="words",
                meaning=meaning,
                trust=trust,
                doubt=doubt,
                ears=ears,
                probability=chance,
                poor_sound=poor_sound,
            )
        )

    def hear(self, heard):
        return self.do(Words(heard, self.now_s))

    def pass_time(self, seconds):
        self.now_s += seconds
        return self.do(Elapsed(self.now_s))

    def do(self, event):
        turn = step(self.context, self.state, event)
        self.state = turn.state
        self.facts += turn.facts
        self.says = [reply.text for reply in turn.replies]
        return turn

    @property
    def question(self):
        return expected(self.context, self.state).question

    def kinds(self):
        return [fact.kind for fact in self.facts]

    def choose(self, choice):
        return self.say(Finding(choice=choice))

    def command(self, name, argument=""):
        return self.say(Command(name=name, argument=argument))

    def read(self, value, trust="sure", place=None, poor_sound=False):
        return self.say(self.reading(value, place), trust, poor_sound=poor_sound)

    def correct(self, value, place=None):
        return self.say(Correction(meaning=self.reading(value, place)))

    def reading(self, value, place=None):
        expectation = expected(self.context, self.state)
        quantity = (expectation.reading or expectation.corrects).quantity
        unit = CANONICAL_UNIT[quantity]
        item = Reading(quantity=quantity, value=value, spoken_value=value, spoken_unit=unit, place=place)
        return Readings(items=(item,))

    def understood(self):
        while self.state.acknowledging:
            self.choose("understood")

    def locked_out(self):
        """Through a lock-out that was just begun."""
        self.understood()
        assert self.question == "lock-out-power.state"
        self.choose("done")
        self.understood()

    def dead(self, volts=3.0, mains=0.0):
        """Through the proof at one place, at whichever of its questions it stands."""
        while self.state.run and self.state.run.check in PROOFS:
            self.understood()
            run = self.state.run
            if self.state.wait_until_s is not None:
                self.pass_time(2000)
            elif self.question.split(".")[1] == "mains":
                self.say(self.readings(mains, mains))
            elif self.question.split(".")[1] == "voltage":
                self.read(volts)
            else:
                self.choose("yes")
            assert self.state.run is not run, "the proof does not go on"

    def at_two_capacitors(self):
        """From the start to a bus of two capacitors in series, locked out, that is to be measured."""
        self.say(Text(words="mill lane"))
        self.choose("no-profile")
        self.choose("three-phase-400")
        self.choose("R410A")
        self.say(Indication(choice="inverter-trip"))
        self.understood()
        self.command("check", "winding-resistance")
        self.locked_out()
        self.say(self.readings(0.0, 0.0))
        self.pass_time(4000)
        assert self.question == "prove-dead-series.voltage"

    def readings(self, *values):
        """Readings for the places of the present question, in order."""
        wanted = expected(self.context, self.state).reading
        unit = CANONICAL_UNIT[wanted.quantity]
        return Readings(
            items=tuple(
                Reading(quantity=wanted.quantity, value=value, spoken_value=value, spoken_unit=unit, place=place.id)
                for place, value in zip(wanted.places, values, strict=False)
            )
        )


@pytest.fixture
def visit(context):
    """A visit just opened."""
    visit = Visit(context)
    visit.open()
    return visit


@pytest.fixture
def diagnosing(visit):
    """A visit at its first check: site, unit and indication are known."""
    visit.say(Text(words="the bakery in mill lane"))
    visit.choose("copper-wren-solo")
    visit.say(_no_communication())
    assert visit.state.run is not None
    return visit


def _no_communication():
    from assistant.language.meaning import Indication

    return Indication(choice="no-communication")


@pytest.fixture
def proving_dead(diagnosing):
    """A visit that waits before the bus is measured; the mains is off."""
    visit = diagnosing
    visit.command("check", "prove-dead")
    visit.locked_out()
    visit.say(visit.readings(0.0, 0.0))
    assert visit.question == "prove-dead.wait"
    return visit
