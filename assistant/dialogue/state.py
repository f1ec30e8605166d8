"""Where a visit stands: nothing but a fold over its facts (see ``evolve``)."""

from __future__ import annotations

from enum import StrEnum

from assistant.dialogue.energy import Power, overall
from assistant.dialogue.facts import Answer, Fact, IndicationNoted, Noted, Role
from assistant.dialogue.job_state import JobState
from assistant.language.meaning import Heard
from assistant.library.kinds import Circuit
from assistant.messages.message import Why
from assistant.model import Model
from assistant.quantities.systems import System
from assistant.reasoning.effort import UnitState
from assistant.reasoning.judgement import Judgement


class Stage(StrEnum):
    """The legs of a visit, in order. DEVELOPERS.md draws them."""

    SITE = "site"
    PROFILE = "profile"
    SUPPLY = "supply"
    REFRIGERANT = "refrigerant"
    ZONE = "zone"
    INDICATION = "indication"
    COURSE = "course"
    CHECK = "check"
    REPAIR = "repair"
    REPAIR_NOTE = "repair-note"
    PROOF = "proof"
    UNSOLVED = "unsolved"
    CUSTOMER_NOTE = "customer-note"
    CLOSED = "closed"


class Given(Model):
    """An answer that was recorded. ``number`` is its place in the visit, ``replaced`` true once corrected."""

    number: int
    check: str
    question: str
    place: str | None
    answer: Answer
    how: str
    replaced: bool = False


class Run(Model):
    """The check under way."""

    check: str
    role: Role
    reason: Why = ""
    towards: str = ""  # the check that a procedure is done for
    things: tuple[str, ...] = ()  # what a putting back has ordered
    cautioned: tuple[str, ...] = ()  # precautions spoken within this run
    described: bool = False
    wait_over: bool = False
    waiting: str = ""  # the question that a wait is for, where it counts only after it
    waited: tuple[str, ...] = ()  # the questions whose wait is over
    answers: tuple[Given, ...] = ()

    def live_answers(self) -> tuple[Given, ...]:
        """The answers that count: those that no correction replaced."""
        return tuple(given for given in self.answers if not given.replaced)


class Caution(Model):
    """A caution that was spoken: about which place, and in which time between two returns of the power."""

    precaution: str
    changeovers: int
    place: str = ""


class Latched(Model):
    """A hazard that stands (``knowledge/hazards.yaml``).

    ``cleared_by`` are the checks and outcomes that clear it, ``passed`` those that have. ``mended``: a repair was
    recorded since; ``disputed``: the reading that raised it was corrected since.
    """

    hazard: str
    by: str
    cleared_by: tuple[tuple[str, tuple[str, ...]], ...] = ()
    passed: tuple[str, ...] = ()
    mended: bool = False
    disputed: bool = False


class Off(Model):
    """A thing that is off, out or clipped on, and the places of the state where hands go to undo it."""

    thing: str
    places: tuple[str, ...]


class Result(Model):
    """A judged check with the answers behind it."""

    check: str
    role: Role
    answers: tuple[Given, ...]
    judgement: Judgement
    zone: str = ""  # the indoor unit that was in question


class VisitState(Model):
    """The whole of what the dialogue knows. Immutable; ``previous`` is where "go back" leads."""

    stage: Stage = Stage.SITE
    technician: str = ""
    profile: str | None = None
    zone: str | None = None
    power: Power = Power()
    hazards: tuple[Latched, ...] = ()
    cleared: tuple[Latched, ...] = ()  # hazards as they stood when they were cleared, for a correction of what did it
    off: tuple[Off, ...] = ()
    back_last: tuple[Off, ...] = ()  # what came back on last, for a correction of that
    circuit: tuple[Circuit, ...] = ("charged",)  # what it may hold: more than one where that is not certain
    emergency: str | None = None  # called out but not beyond doubt: asked back
    changeovers: int = 0
    cautions: tuple[Caution, ...] = ()
    acknowledging: tuple[Caution, ...] = ()  # spoken, and waiting for "understood"
    run: Run | None = None
    results: tuple[Result, ...] = ()
    told: tuple[Given, ...] = ()  # answers to checks that were not asked, until the check is judged or asked
    skipped: tuple[str, ...] = ()
    set_aside: tuple[tuple[str, int], ...] = ()  # of those, what could not be answered, and how many results stood
    taken_up: tuple[str, ...] = ()  # what was set aside and asked once more
    asked_for: str | None = None  # a check the technician named, kept while the energy state is changed over
    proofs_left: tuple[str, ...] = ()
    proof_failed: bool = False
    proofs_repeated: tuple[str, ...] = ()
    suspect: str | None = None
    because: Why = ""  # why that suspect
    not_mended: tuple[str, ...] = ()  # suspects whose repair could not be made: not named a second time
    likeliest: str = ""  # could not be named, but is more likely than not
    repair_described: bool = False
    repair_cautioned: tuple[str, ...] = ()  # cautions spoken for the repair under way
    mended: tuple[tuple[str, int], ...] = ()  # suspect repaired, and how many results stood before
    doubted: tuple[str, ...] = ()
    proof: str | None = None  # how the last proof ended
    wait_until_s: float | None = None
    unconfirmed: Heard | None = None
    correcting: int | None = None
    held: bool = False
    held_at_s: float | None = None
    misheard: int = 0
    refused: bool = False  # the utterance before was understood, but cannot be
    finishing: bool = False
    asking_altitude: bool = False
    system: System = ""  # of measurement, for numbers without a unit
    altitude_at: int | None = None  # how many answers there were when the altitude was told
    pace: float = 1.0
    volume: float = 1.0
    answers: int = 0
    spoken: tuple[Why, ...] = ()  # the last turn's replies, for "repeat"
    closing: str | None = None
    job: JobState = JobState()
    course: tuple[Fact, ...] = ()  # indications, faults named, repairs, notes and proofs that still stand
    previous: VisitState | None = None

    @property
    def energy(self) -> UnitState:
        """The farthest state of any place: for planning and display, never for whether a hand may go in."""
        return overall(self.power)

    def note(self, topic: str) -> str | None:
        """The latest note on a topic, or None."""
        noted = (fact for fact in reversed(self.course) if isinstance(fact, Noted))
        return next((fact.value for fact in noted if fact.topic == topic), None)

    @property
    def altitude_last(self) -> bool:
        """Whether the altitude was told and nothing has been answered since: a correction is of that."""
        return self.altitude_at == self.answers and bool(self.note("altitude"))

    @property
    def symptoms(self) -> tuple[str, ...]:
        """What the unit shows, each once."""
        return tuple(dict.fromkeys(fact.symptom for fact in self.course if isinstance(fact, IndicationNoted)))

    @property
    def to_correct(self) -> Given | None:
        """The answer of which it is asked what it should be; None while nothing is being corrected."""
        return self.last_answer() if self.correcting is not None else None

    def last_answer(self, place: str | None = None) -> Given | None:
        """The newest answer that still counts, asked or told unasked; with ``place``, the newest there."""
        groups = [self.run.answers if self.run else (), self.told, *(result.answers for result in self.results)]
        live = [given for answers in groups for given in answers if not given.replaced]
        return max(
            (one for one in live if place is None or one.place == place), key=lambda one: one.number, default=None
        )
