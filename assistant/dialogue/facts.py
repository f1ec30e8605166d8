"""Everything that can happen in a visit, as the journal keeps it.

A visit's state, its record and its history are folds over these. A fact never holds a time: the journal
stamps it. Facts are only ever added; old kinds stay readable.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, TypeAdapter

from assistant.language.meaning import Finding, Heard, Reading, Text
from assistant.messages.message import Message
from assistant.model import Model
from assistant.reasoning.effort import UnitState
from assistant.reasoning.judgement import Judgement

#: Why a check is made: to find the fault, to change the energy state, asked for by name, or to prove the repair.
Role = Literal["diagnosis", "changeover", "asked", "proof"]
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


class IndicationNoted(Model):
    """What the unit shows. ``shown`` is the maker's own display text where the profile knows it."""

    kind: Literal["indication-noted"] = "indication-noted"
    symptom: str
    shown: str = ""
    words: str = ""


class PrecautionGiven(Model):
    """A caution was spoken. ``waits``: it counts as given only when it is acknowledged."""

    kind: Literal["precaution-given"] = "precaution-given"
    precaution: str
    waits: bool = False


class PrecautionAcknowledged(Model):
    kind: Literal["precaution-acknowledged"] = "precaution-acknowledged"
    precaution: str


class CheckStarted(Model):
    """A check was chosen; ``reason`` is what "why" speaks. ``again``: answered before, asked to make sure."""

    kind: Literal["check-started"] = "check-started"
    check: str
    role: Role
    reason: str = ""
    again: bool = False


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
    kind: Literal["energy-changed"] = "energy-changed"
    to: UnitState
    because: str


class CheckSkipped(Model):
    kind: Literal["check-skipped"] = "check-skipped"
    check: str


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
    """ "wait" or "stop": nothing is taken for an answer until "carry on"."""

    kind: Literal["held"] = "held"
    by: str


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
    kind: Literal["visit-closed"] = "visit-closed"
    outcome: Literal["mended", "repaired, not proved", "not mended", "nothing found"]


Fact = Annotated[
    VisitOpened
    | Reopened
    | TimeReached
    | WordsHeard
    | Said
    | Noted
    | IndicationNoted
    | PrecautionGiven
    | PrecautionAcknowledged
    | CheckStarted
    | CheckDescribed
    | CheckAskedFor
    | WaitStarted
    | WaitEnded
    | AnswerGiven
    | ConfirmationAsked
    | ConfirmationSettled
    | CheckJudged
    | EnergyChanged
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
