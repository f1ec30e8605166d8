"""Cautions, checks with their answers and verdicts, the fault that they show, its repair and the proof."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from assistant.language.meaning import Finding, Reading, Text
from assistant.messages.message import Why
from assistant.model import Model
from assistant.reasoning.effort import UnitState
from assistant.reasoning.judgement import Judgement

#: Why a check is made: to find the fault, to change the energy state, asked for by name, or to prove the repair.
#: ``course``: a step of the visit's course.
Role = Literal["diagnosis", "changeover", "asked", "proof", "told", "course"]
Answer = Annotated[Reading | Finding | Text, Field(union_mode="smart")]


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
    reason: Why = ""
    again: bool = False
    towards: str = ""


class CheckDescribed(Model):
    """The instruction of the check under way was spoken (never before its precautions)."""

    kind: Literal["check-described"] = "check-described"
    check: str
    energy: UnitState


class CheckAskedFor(Model):
    """This check comes next, as soon as the energy state allows: the technician named it or its component.

    ``taken_up``: nobody named it; it could not be answered earlier and has become what the visit lacks.
    """

    kind: Literal["check-asked-for"] = "check-asked-for"
    check: str
    taken_up: bool = False


class WaitStarted(Model):
    """A timed wait, e.g. for the bus capacitors; ``seconds`` is advice, the meter decides.

    ``question``: the question that counts only after it (nitrogen that must hold for half an hour).
    """

    kind: Literal["wait-started"] = "wait-started"
    seconds: float
    until_s: float
    question: str = ""


class WaitEnded(Model):
    kind: Literal["wait-ended"] = "wait-ended"


class Answered(Model):
    """An answer with what made it trusted. ``number`` counts the answers of a visit from 1, told ones too."""

    kind: str
    number: int
    check: str
    question: str
    place: str | None
    answer: Answer
    how: Literal["two ears", "confirmed by voice", "typed", "from the plate"]
    words: str
    probability: float
    ears: tuple[tuple[str, str], ...] = ()


class AnswerGiven(Answered):
    """An answer to what was asked entered the visit. ``replaces``: the number of the one that it corrects."""

    kind: Literal["answer-given"] = "answer-given"
    replaces: int | None = None


class FactTold(Answered):
    """An answer to a check that was not asked, told in passing."""

    kind: Literal["fact-told"] = "fact-told"


class CheckJudged(Model):
    """The verdict of a check from the answers with these numbers. A later one for the same run replaces it."""

    kind: Literal["check-judged"] = "check-judged"
    check: str
    role: Role
    answers: tuple[int, ...]
    judgement: Judgement


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
    reason: Why
    likeliest: str = ""


class RepairDescribed(Model):
    kind: Literal["repair-described"] = "repair-described"
    suspect: str


class RepairDone(Model):
    """``mends``: the latched hazards that this repair can have mended; None in older journals: all that stood."""

    kind: Literal["repair-done"] = "repair-done"
    suspect: str
    done: bool
    mends: tuple[str, ...] | None = None


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
