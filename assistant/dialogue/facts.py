"""Everything that can happen in a visit, as the journal keeps it.

A visit's state, its record and its history are folds over these. A fact never holds a time: the journal
stamps it. Facts are only ever added; old kinds stay readable.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, TypeAdapter

from assistant.language.meaning import Finding, Heard, Reading, Text
from assistant.library.kinds import Circuit
from assistant.messages.message import Message
from assistant.model import Model
from assistant.reasoning.effort import UnitState
from assistant.reasoning.judgement import Judgement

#: Why a check is made: to find the fault, to change the energy state, asked for by name, or to prove the repair.
Role = Literal["diagnosis", "changeover", "asked", "proof", "told"]
Answer = Annotated[Reading | Finding | Text, Field(union_mode="smart")]


class VisitOpened(Model):
    """First fact of a visit. ``library`` identifies the knowledge that was used."""

    kind: Literal["visit-opened"] = "visit-opened"
    library: str
    technician: str = ""


class Reopened(Model):
    """The visit was cut short and goes on."""

    kind: Literal["reopened"] = "reopened"


class TimeReached(Model):
    """A wait came to its end without words."""

    kind: Literal["time-reached"] = "time-reached"


class WordsHeard(Model):
    """One utterance as the ears judged it, whatever came of it."""

    kind: Literal["words-heard"] = "words-heard"
    heard: Heard


class Said(Model):
    """One spoken reply. ``about`` is caution, result, instruction, question or remark.

    ``text`` is what was spoken, ``message`` what it means (None in visits older than the catalogue of messages).
    """

    kind: Literal["said"] = "said"
    text: str
    about: str
    message: Message | None = None


class Noted(Model):
    """Something about the visit: site, profile, zone, repair, customer ..."""

    kind: Literal["noted"] = "noted"
    topic: str
    value: str
    words: str = ""


class AltitudeAsked(Model):
    """The altitude of the site was asked for; the note of it is the answer."""

    kind: Literal["altitude-asked"] = "altitude-asked"


class IndicationNoted(Model):
    """What the unit shows. ``shown`` is the maker's own display text where the profile knows it."""

    kind: Literal["indication-noted"] = "indication-noted"
    symptom: str
    shown: str = ""
    words: str = ""


class PrecautionGiven(Model):
    """A caution was spoken. ``waits``: it counts as given only when it is acknowledged.

    ``place`` is where it is about, ``length`` how much of it was said: whole, the order alone, or a reminder.
    """

    kind: Literal["precaution-given"] = "precaution-given"
    precaution: str
    waits: bool = False
    place: str = ""
    length: Literal["say", "again", "short"] = "say"


class PrecautionAcknowledged(Model):
    kind: Literal["precaution-acknowledged"] = "precaution-acknowledged"
    precaution: str


class CheckStarted(Model):
    """A check was chosen; ``reason`` is what "why" speaks. ``again``: answered before, asked to make sure.

    ``towards``: the check that a procedure is done for.
    """

    kind: Literal["check-started"] = "check-started"
    check: str
    role: Role
    reason: str = ""
    again: bool = False
    towards: str = ""


class CheckDescribed(Model):
    """The instruction of the check under way was spoken (never before its precautions)."""

    kind: Literal["check-described"] = "check-described"
    check: str
    energy: UnitState


class CheckAskedFor(Model):
    """The technician named this check or component: it comes next, as soon as the energy state allows."""

    kind: Literal["check-asked-for"] = "check-asked-for"
    check: str


class WaitStarted(Model):
    """A timed wait, e.g. for the bus capacitors; ``seconds`` is advice, the meter decides."""

    kind: Literal["wait-started"] = "wait-started"
    seconds: float
    until_s: float


class WaitEnded(Model):
    kind: Literal["wait-ended"] = "wait-ended"


class AnswerGiven(Model):
    """An answer entered the visit. ``number`` counts answers from 1; ``how`` says what made it trusted."""

    kind: Literal["answer-given"] = "answer-given"
    number: int
    check: str
    question: str
    place: str | None
    answer: Answer
    how: Literal["two ears", "confirmed by voice", "typed"]
    words: str
    probability: float
    ears: tuple[tuple[str, str], ...] = ()
    replaces: int | None = None


class FactTold(Model):
    """An answer to a check that was not asked, told in passing; its number counts with those of the answers."""

    kind: Literal["fact-told"] = "fact-told"
    number: int
    check: str
    question: str
    place: str | None
    answer: Answer
    how: Literal["two ears", "confirmed by voice", "typed"]
    words: str
    probability: float
    ears: tuple[tuple[str, str], ...] = ()


class ConfirmationAsked(Model):
    """Read back and asked "right?"; nothing is recorded until it is settled."""

    kind: Literal["confirmation-asked"] = "confirmation-asked"
    heard: Heard


class ConfirmationSettled(Model):
    kind: Literal["confirmation-settled"] = "confirmation-settled"
    right: bool


class CheckJudged(Model):
    """The verdict of a check from the answers with these numbers. A later one for the same run replaces it."""

    kind: Literal["check-judged"] = "check-judged"
    check: str
    role: Role
    answers: tuple[int, ...]
    judgement: Judgement


class EnergyChanged(Model):
    """The power is off and locked, proved dead at ``place``, or on. Without a place it is the whole unit (older visits
    had no places)."""

    kind: Literal["energy-changed"] = "energy-changed"
    to: UnitState
    because: str
    place: str = ""


class VoltageMeasured(Model):
    """A voltage was measured on the way to proving ``place`` dead: ``mains`` (AC) or ``stored`` (DC), in V.

    ``absent``: below the limit, the meter's uncertainty included. ``at_s`` is the visit's time, for the decay.
    """

    kind: Literal["voltage-measured"] = "voltage-measured"
    place: str
    what: Literal["mains", "stored"]
    volts: float
    absent: bool
    at_s: float


class ProofDoubted(Model):
    """What was measured at ``place`` counts no more: the meter was not good, or a reading was corrected."""

    kind: Literal["proof-doubted"] = "proof-doubted"
    place: str


class HazardRaised(Model):
    """A hazard latches. ``cleared_by``: the checks and the outcomes that clear it."""

    kind: Literal["hazard-raised"] = "hazard-raised"
    hazard: str
    by: str
    cleared_by: tuple[tuple[str, tuple[str, ...]], ...] = ()


class HazardDisputed(Model):
    """The reading that raised it was corrected; it stands until it is measured again."""

    kind: Literal["hazard-disputed"] = "hazard-disputed"
    hazard: str


class HazardPassed(Model):
    """One of the checks that clear it passed, measured anew."""

    kind: Literal["hazard-passed"] = "hazard-passed"
    hazard: str
    check: str


class HazardCleared(Model):
    """It is over. ``by`` is the check that showed it, or "misheard" for an emergency that nobody had called."""

    kind: Literal["hazard-cleared"] = "hazard-cleared"
    hazard: str
    by: str


class TakenOff(Model):
    """From here on these things may be off, out or clipped on; hands go to ``places`` (of the state) to undo it."""

    kind: Literal["taken-off"] = "taken-off"
    things: tuple[str, ...]
    places: tuple[str, ...]
    by: str


class PutBackOrdered(Model):
    """These things were ordered back, and wait to be reported."""

    kind: Literal["put-back-ordered"] = "put-back-ordered"
    things: tuple[str, ...]


class PutBack(Model):
    """These things are back, as the technician said."""

    kind: Literal["put-back"] = "put-back"
    things: tuple[str, ...]


class CircuitChanged(Model):
    """What the refrigerant circuit holds now; not ``certain``: what it may hold besides, work on it having begun."""

    kind: Literal["circuit-changed"] = "circuit-changed"
    to: Circuit
    because: str
    certain: bool = True


class EmergencyCalled(Model):
    """An emergency was called out. ``sure``: beyond doubt; otherwise it is asked back while its bars already hold."""

    kind: Literal["emergency-called"] = "emergency-called"
    emergency: str
    sure: bool = True


class EmergencySettled(Model):
    """The emergency that was asked back: real, or misheard."""

    kind: Literal["emergency-settled"] = "emergency-settled"
    real: bool


class CheckSkipped(Model):
    """A check is left out. ``reason`` is why it cannot be answered ("cant-reach"); empty: it was only skipped."""

    kind: Literal["check-skipped"] = "check-skipped"
    check: str
    reason: str = ""


class RunDropped(Model):
    """The check under way no longer fits the energy state, so it is chosen anew."""

    kind: Literal["run-dropped"] = "run-dropped"
    check: str


class AnswersDoubted(Model):
    """The answers to this check clash with others; they are set aside and the check is asked again, once."""

    kind: Literal["answers-doubted"] = "answers-doubted"
    check: str


class FaultNamed(Model):
    """Reasoning came to an end: ``suspect`` empty when nothing could be named.

    ``likeliest`` is then the suspect that is more likely than not, if there is one: the technician may still mend it.
    """

    kind: Literal["fault-named"] = "fault-named"
    suspect: str
    probability: float
    reason: str
    likeliest: str = ""


class RepairDescribed(Model):
    kind: Literal["repair-described"] = "repair-described"
    suspect: str


class RepairDone(Model):
    kind: Literal["repair-done"] = "repair-done"
    suspect: str
    done: bool


class ProofBegun(Model):
    """The repair is made; these checks must now show that the fault is gone."""

    kind: Literal["proof-begun"] = "proof-begun"
    suspect: str
    checks: tuple[str, ...]


class ProofRepeated(Model):
    """A proof showed that the work was not finished; it is finished now and the check is made again."""

    kind: Literal["proof-repeated"] = "proof-repeated"
    check: str


class ProofSettled(Model):
    """All proof checks answered. "failed" reopens the search without the repaired suspect."""

    kind: Literal["proof-settled"] = "proof-settled"
    suspect: str
    proof: Literal["proved", "failed", "not proved"]


class StageEntered(Model):
    kind: Literal["stage-entered"] = "stage-entered"
    stage: str


class Held(Model):
    """ "wait" or "stop": nothing is taken for an answer until "carry on". ``at_s``: the visit's time when it began."""

    kind: Literal["held"] = "held"
    by: str
    at_s: float | None = None


class Released(Model):
    kind: Literal["released"] = "released"


class CorrectionAsked(Model):
    """ "correction" alone: the next answer replaces this one."""

    kind: Literal["correction-asked"] = "correction-asked"
    number: int


class Misheard(Model):
    """An utterance could not be used; counted so that the third one offers help.

    ``refused``: it was understood, but is not what instrument and place can give.
    """

    kind: Literal["misheard"] = "misheard"
    refused: bool = False


class StepRemembered(Model):
    """A step begins here that "go back" may return to."""

    kind: Literal["step-remembered"] = "step-remembered"


class WentBack(Model):
    """The last answered step is taken back. The energy state never becomes safer by it."""

    kind: Literal["went-back"] = "went-back"


class SlowerAsked(Model):
    kind: Literal["slower-asked"] = "slower-asked"


class FinishAsked(Model):
    """ "finish": asks once before the visit is closed; ``asking`` false takes it back."""

    kind: Literal["finish-asked"] = "finish-asked"
    asking: bool


class CalculationMade(Model):
    """A sum asked aloud, with its numbers, for the record."""

    kind: Literal["calculation-made"] = "calculation-made"
    name: str
    formula: str
    numbers: str
    result: str
    source: str


class VisitClosed(Model):
    """The visit is over. ``left`` says first of all how the unit is left where it is not as usual: barred, locked out
    and not proved dead, apart, its circuit open or empty."""

    kind: Literal["visit-closed"] = "visit-closed"
    outcome: Literal["mended", "repaired, not proved", "not mended", "nothing found"]
    left: tuple[Message, ...] = ()


Fact = Annotated[
    VisitOpened
    | Reopened
    | TimeReached
    | WordsHeard
    | Said
    | Noted
    | AltitudeAsked
    | IndicationNoted
    | PrecautionGiven
    | PrecautionAcknowledged
    | CheckStarted
    | CheckDescribed
    | CheckAskedFor
    | WaitStarted
    | WaitEnded
    | AnswerGiven
    | FactTold
    | ConfirmationAsked
    | ConfirmationSettled
    | CheckJudged
    | EnergyChanged
    | VoltageMeasured
    | ProofDoubted
    | HazardRaised
    | HazardDisputed
    | HazardPassed
    | HazardCleared
    | TakenOff
    | PutBackOrdered
    | PutBack
    | CircuitChanged
    | EmergencyCalled
    | EmergencySettled
    | CheckSkipped
    | RunDropped
    | AnswersDoubted
    | FaultNamed
    | RepairDescribed
    | RepairDone
    | ProofBegun
    | ProofRepeated
    | ProofSettled
    | StageEntered
    | Held
    | Released
    | CorrectionAsked
    | Misheard
    | StepRemembered
    | WentBack
    | SlowerAsked
    | FinishAsked
    | CalculationMade
    | VisitClosed,
    Field(discriminator="kind"),
]

FACT: TypeAdapter[Fact] = TypeAdapter(Fact)
