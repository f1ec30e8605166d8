"""Everything that can happen in a visit, as the journal keeps it.

A visit's state, its record and its history are folds over these. A fact never holds a time: the journal
stamps it. Facts are only ever added; old kinds stay readable.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, TypeAdapter

from assistant.dialogue.facts.checks import (
    Answer,
    Answered,
    AnswerGiven,
    AnswersDoubted,
    CheckAskedFor,
    CheckDescribed,
    CheckJudged,
    CheckSkipped,
    CheckStarted,
    FactTold,
    FaultNamed,
    PrecautionAcknowledged,
    PrecautionGiven,
    ProofBegun,
    ProofRepeated,
    ProofSettled,
    RepairDescribed,
    RepairDone,
    Role,
    RunDropped,
    WaitEnded,
    WaitStarted,
)
from assistant.dialogue.facts.job import (
    AsideAsked,
    AsideSettled,
    CourseBegun,
    CourseStepEnded,
    CourseStepRepeated,
    JobSet,
    LedgerNoted,
    LedgerStruck,
    PlateKept,
    SearchClosed,
    SearchOpened,
    SiteRecalled,
    SitesKnown,
    TakenOver,
    WentOver,
    ZoneChanged,
)
from assistant.dialogue.facts.power import (
    CircuitChanged,
    EmergencyCalled,
    EmergencySettled,
    EnergyChanged,
    HazardCleared,
    HazardDisputed,
    HazardPassed,
    HazardRaised,
    ProofDoubted,
    PutBack,
    PutBackOrdered,
    TakenOff,
    VoltageMeasured,
)
from assistant.dialogue.facts.visit import (
    AltitudeAsked,
    Amended,
    CalculationMade,
    ConfirmationAsked,
    ConfirmationSettled,
    CorrectionAsked,
    FinishAsked,
    Held,
    IndicationNoted,
    Misheard,
    Noted,
    PhotoKept,
    Released,
    Reopened,
    Said,
    Signed,
    SlowerAsked,
    StageEntered,
    StepRemembered,
    SystemSettled,
    TimeReached,
    VisitClosed,
    VisitOpened,
    VoiceSet,
    WentBack,
    WordsHeard,
)
from assistant.messages.message import Why

__all__ = [
    "FACT",
    "AltitudeAsked",
    "Amended",
    "Answer",
    "AnswerGiven",
    "Answered",
    "AnswersDoubted",
    "AsideAsked",
    "AsideSettled",
    "CalculationMade",
    "CheckAskedFor",
    "CheckDescribed",
    "CheckJudged",
    "CheckSkipped",
    "CheckStarted",
    "CircuitChanged",
    "ConfirmationAsked",
    "ConfirmationSettled",
    "CorrectionAsked",
    "CourseBegun",
    "CourseStepEnded",
    "CourseStepRepeated",
    "EmergencyCalled",
    "EmergencySettled",
    "EnergyChanged",
    "Fact",
    "FactTold",
    "FaultNamed",
    "FinishAsked",
    "HazardCleared",
    "HazardDisputed",
    "HazardPassed",
    "HazardRaised",
    "Held",
    "IndicationNoted",
    "JobSet",
    "LedgerNoted",
    "LedgerStruck",
    "Misheard",
    "Noted",
    "PhotoKept",
    "PlateKept",
    "PrecautionAcknowledged",
    "PrecautionGiven",
    "ProofBegun",
    "ProofDoubted",
    "ProofRepeated",
    "ProofSettled",
    "PutBack",
    "PutBackOrdered",
    "Released",
    "Reopened",
    "RepairDescribed",
    "RepairDone",
    "Role",
    "RunDropped",
    "Said",
    "SearchClosed",
    "SearchOpened",
    "Signed",
    "SiteRecalled",
    "SitesKnown",
    "SlowerAsked",
    "StageEntered",
    "StepRemembered",
    "SystemSettled",
    "TakenOff",
    "TakenOver",
    "TimeReached",
    "VisitClosed",
    "VisitOpened",
    "VoiceSet",
    "VoltageMeasured",
    "WaitEnded",
    "WaitStarted",
    "WentBack",
    "WentOver",
    "Why",
    "WordsHeard",
    "ZoneChanged",
]

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
    | SystemSettled
    | WentBack
    | WentOver
    | VoiceSet
    | SlowerAsked
    | FinishAsked
    | CalculationMade
    | VisitClosed
    | Amended
    | Signed
    | PhotoKept
    | AsideAsked
    | AsideSettled
    | CourseBegun
    | CourseStepEnded
    | CourseStepRepeated
    | JobSet
    | LedgerNoted
    | LedgerStruck
    | PlateKept
    | SearchClosed
    | SearchOpened
    | SiteRecalled
    | SitesKnown
    | TakenOver
    | ZoneChanged,
    Field(discriminator="kind"),
]

FACT: TypeAdapter[Fact] = TypeAdapter(Fact)
