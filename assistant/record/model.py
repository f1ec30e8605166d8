"""The service record as data: what every form of it (page, paper, spreadsheet, JSON) shows. Nothing is worded twice.

Numbers stand apart from words, each with its unit; times have their zone. ``schema.json`` beside this file is the
published JSON Schema of ``Record``; ``version`` rises when a field changes its meaning or goes.
"""

from __future__ import annotations

from typing import Literal

from pydantic import AwareDatetime

from assistant.dialogue.facts import Role
from assistant.model import Model
from assistant.reasoning.effort import UnitState
from assistant.reasoning.judgement import Bound, Margin, Working
from assistant.record.drawn import Picture, WeightStep
from assistant.record.job_lines import Amendment, DutyLine, MoveLine, PartLine, PhotoLine, SignatureLine

#: What a check was done for.
ROLE_WORDS: dict[Role, str] = {
    "diagnosis": "to find the fault",
    "changeover": "to change the energy state",
    "asked": "asked for by name",
    "proof": "to prove the repair",
    "told": "told in passing",
    "course": "a step of the visit",
}

CAUTION = (
    "Local codes, the maker's manual and licensed practice come first. This record states what was measured and "
    "computed during the visit; it certifies nothing."
)

#: Whether people may use the unit: nothing bars it, switched off and locked, barred by a hazard, left apart or its
#: circuit open, or the visit is not over.
Safety = Literal["in service", "locked", "barred", "apart", "open visit"]


class UnitLine(Model):
    """The unit of the visit. ``data_from`` is where its figures come from; ``charge_kg`` that of the nameplate."""

    name: str
    make: str = ""
    model: str = ""
    serial: str = ""
    zone: str = ""
    refrigerant: str = ""
    charge_kg: float | None = None
    data_from: str = ""


class Left(Model):
    """How the unit is left: the first thing anyone must know. ``sentences`` say why, the gravest first."""

    safety: Safety
    headline: str
    sentences: tuple[str, ...] = ()
    hazards: tuple[str, ...] = ()


class AnswerLine(Model):
    """One recorded answer, told or asked.

    ``value`` in ``unit`` is what was said, ``inside`` in ``inside_unit`` the same in the unit kept inside;
    ``unit_assumed``: no unit was said. ``status``: counts, corrected (a later one replaced it), or taken back.
    ``bounds`` are the limits of its own quantity that its check went by; ``margin`` the distance to the nearest,
    where the verdict hangs on this reading alone. ``repairs`` counts the repairs recorded before it.
    """

    number: int
    at: AwareDatetime
    check_id: str
    check: str
    question: str
    place_id: str = ""
    place: str = ""
    said: str  # value and unit for people: "1.9 Ω", "same order"
    quantity: str = ""
    value: float | None = None
    unit: str = ""
    unit_assumed: bool = False
    inside: float | None = None
    inside_unit: str = ""
    span: tuple[float, float] | None = None
    special: str = ""
    words: str
    ears: tuple[tuple[str, str], ...] = ()
    how: str
    probability: float
    told: bool = False
    status: Literal["counts", "corrected", "taken back"]
    replaces: int | None = None
    repairs: int = 0
    bounds: tuple[Bound, ...] = ()
    margin: Margin | None = None


class PlaceState(Model):
    """What had been shown of the power at one place."""

    place: str
    state: UnitState


class CheckLine(Model):
    """One judged check with the working behind its verdict.

    ``needs`` is the energy state that it asks for, ``energy`` what had truly been shown at its places when it was
    judged. ``standing``: its verdict counts at the end, no "go back" or repetition has set it aside.
    """

    at: AwareDatetime
    id: str
    title: str
    role: Role
    needs: str
    energy: tuple[PlaceState, ...]
    verdict: str
    outcome: str
    says: str
    answers: tuple[int, ...]
    working: tuple[Working, ...]
    bounds: tuple[Bound, ...] = ()
    margin: Margin | None = None
    standing: bool = True
    repairs: int = 0


class TimedLine(Model):
    """Something said, with its time."""

    at: AwareDatetime
    who: str
    text: str
    trust: str = ""


class EnergySpan(Model):
    """A stretch of time in which one place was in one energy state; ``until`` None: to the end."""

    place: str
    state: UnitState
    since: AwareDatetime
    until: AwareDatetime | None
    because: str = ""


class HoldLine(Model):
    """A hold ("wait") or a wait for stored charge, as long as it truly was; ``asked_s`` is what was advised."""

    kind: Literal["hold", "wait"]
    since: AwareDatetime
    until: AwareDatetime | None
    seconds: float | None
    asked_s: float | None = None


class CautionLine(Model):
    """A caution as it was given. ``acknowledged_at`` None: not acknowledged; ``waits``: it had to be."""

    at: AwareDatetime
    precaution: str
    place: str
    text: str
    length: str
    waits: bool
    acknowledged_at: AwareDatetime | None = None


class NotChecked(Model):
    """A check that was left out, and why."""

    at: AwareDatetime
    id: str
    title: str
    reason: str = ""


class FaultLine(Model):
    """A fault as it was named, or that none could be."""

    at: AwareDatetime
    suspect: str
    name: str
    component: str
    probability: float
    reason: str


class RepairLine(Model):
    """A repair and whether it was proved."""

    at: AwareDatetime
    suspect: str
    name: str
    component: str
    done: bool
    words: str
    proof: str


class Pair(Model):
    """One thing measured before and after the repair."""

    what: str
    before: str
    before_verdict: str
    after: str
    after_verdict: str
    quantity: str = ""
    unit: str = ""
    before_value: float | None = None
    after_value: float | None = None


class Summary(Model):
    """The customer's page in plain words, each line one sentence or name."""

    wrong: tuple[str, ...] = ()
    done: tuple[str, ...] = ()
    pairs: tuple[Pair, ...] = ()
    watch: tuple[str, ...] = ()
    open: tuple[str, ...] = ()
    next_due: tuple[str, ...] = ()


class Seal(Model):
    """What the record was made from: so many facts of the journal, and the hash at the end of their chain.

    ``content``: SHA-256 over the record's own JSON without this seal (see ``seal.py``).
    """

    facts: int
    chain: str
    content: str = ""


class Record(Model):
    """Everything the visit leaves behind.

    ``technician`` is who had it last, ``technicians`` all in their order; ``away_min``: how long it lay interrupted.
    """

    version: Literal["1.0"] = "1.0"
    visit: str
    origin: str
    opened_at: AwareDatetime
    ended_at: AwareDatetime
    closed: bool
    outcome: str
    left: Left
    technician: str
    site: str
    customer_note: str
    unit: UnitLine
    indications: tuple[str, ...]
    summary: Summary
    faults: tuple[FaultLine, ...]
    repairs: tuple[RepairLine, ...]
    answers: tuple[AnswerLine, ...]
    checks: tuple[CheckLine, ...]
    not_checked: tuple[NotChecked, ...]
    energy: tuple[EnergySpan, ...]
    holds: tuple[HoldLine, ...]
    cautions: tuple[CautionLine, ...]
    calculations: tuple[Working, ...]
    suspects: tuple[WeightStep, ...]
    pictures: tuple[Picture, ...]
    amendments: tuple[Amendment, ...] = ()
    kind: str = ""
    customer: str = ""
    worked_min: float = 0.0
    travelled_min: float = 0.0
    technicians: tuple[str, ...] = ()
    away_min: float = 0.0
    notes: tuple[str, ...] = ()
    parts: tuple[PartLine, ...] = ()
    refrigerant: tuple[MoveLine, ...] = ()
    duties: tuple[DutyLine, ...] = ()
    signatures: tuple[SignatureLine, ...] = ()
    photos: tuple[PhotoLine, ...] = ()
    transcript: tuple[TimedLine, ...]
    library: str
    lost: int = 0
    caution: str = CAUTION
    seal: Seal
