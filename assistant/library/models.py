"""The shape of everything in ``knowledge/``. The loader turns YAML into these or says what is wrong where."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field

from assistant.language.meaning import Choice, Quantity
from assistant.library.course_models import Course, CourseStep
from assistant.library.kinds import (
    At,
    Chance,
    Does,
    Energy,
    Finite,
    MeasuredField,
    Pins,
    Probability,
    Slug,
    Spoken,
    Verdict,
    Where,
)
from assistant.library.named import Figure, Instrument, Limit, Precaution, ProfileFigure, Source
from assistant.library.touching import CircuitUse, Hazard, TakenOff, Touch
from assistant.model import Model

#: The system whose checks follow any repair; they need no suspect to be asked.
AFTER_ANY_REPAIR = "commissioning"
#: The system whose checks change what is shown of power and circuit; no suspect is told by them.
PROCEDURES = "procedures"
#: The system whose checks only a visit's course asks for.
VISIT_STEPS = "visit-steps"

__all__ = [
    "Check",
    "CircuitUse",
    "Course",
    "CourseStep",
    "Energy",
    "FaultFile",
    "Figure",
    "Hazard",
    "Instrument",
    "Judge",
    "Limit",
    "Outcome",
    "Precaution",
    "Probability",
    "ProfileFigure",
    "Question",
    "ReadingAnswer",
    "Repair",
    "Slug",
    "Source",
    "Spoken",
    "Suspect",
    "Symptom",
    "TakenOff",
    "Touch",
    "Verdict",
    "Where",
]


class ReadingAnswer(Model):
    """``plausible`` bounds are in ``unit``. ``places`` asks for one reading each, in one breath or several."""

    quantity: Quantity
    unit: str
    plausible: tuple[Finite, Finite]
    instrument: Slug
    places: tuple[Choice, ...] = ()
    open_line: bool = False


class Question(Model):
    """One thing asked within a check. Exactly one of ``reading``, ``choices``, ``text`` is given.

    ``keeps``: the field of the unit's plate that this measures. ``known_as``: the field that answers it where it is
    known, so that nobody is asked for it again. ``repeats``: the question that reads the same thing in the same state
    ("supply-volts.voltage"); what is far from the one is asked back when the other is answered.
    """

    key: Slug
    say: Spoken
    repeats: str = ""
    reading: ReadingAnswer | None = None
    choices: tuple[Choice, ...] = ()
    text: bool = False
    keeps: MeasuredField | None = None
    known_as: MeasuredField | None = None


class Judge(Model):
    """How the answers become an outcome: ``by`` names a judge in ``assistant/reasoning/judges``.

    ``inputs`` maps the judge's parameter to a question key; ``limits`` to a figure or a profile's figure;
    ``options`` holds plain words or numbers that the judge documents.
    """

    by: Slug
    inputs: dict[str, str] = {}
    limits: dict[str, Limit] = {}
    options: dict[str, Any] = {}


class Outcome(Model):
    """What an answer amounts to. ``means`` is the spoken half-sentence when the judge computes none itself.

    ``cuts_power``: after this the supply does not stay on, so nothing is asked of a live unit but at the supply.
    ``redo``: as a proof it says that the work is not finished, not that another part is at fault; this is how to finish
    it, and then the check is made again.
    ``mode``: it tells that the complaint is about this mode, in which its repair is proved.
    ``only``: the weather leaves this mode alone to be tried, whatever the complaint is about.
    ``shows``: the symptom that this amounts to (a breaker that trips as the power is restored).
    ``hazard``: the id of a hazard (``hazards.yaml``) that latches when this comes out. ``cleared_by``: the checks with
    the outcomes that clear it, in place of the hazard's own ({compressor-to-earth: [good]}).
    """

    verdict: Verdict
    means: str = ""
    cuts_power: bool = False
    redo: str = ""
    shows: Slug | None = None
    mode: Literal["cooling", "heating"] | None = None
    only: Literal["cooling", "heating"] | None = None
    hazard: Slug | None = None
    cleared_by: dict[Slug, tuple[Slug, ...]] = {}


class Check(Model):
    """One thing to look at, operate or measure.

    ``tells`` gives, for a suspect, the chance of each outcome if that suspect is at fault; ``otherwise`` the
    chances for every suspect not named. Each set of chances covers all outcomes and sums to 1.
    ``phrases`` are how a technician asks for the check by name.
    ``needs`` lists profile features (e.g. "float-switch", "multi-zone", "three-phase") without which it is not asked.
    ``after`` lists checks that must have been done first. ``only_if`` names outcomes of an earlier check without which
    this one makes no sense ({"circuit-running-look": [both]}: superheat needs a running compressor); it implies after.
    ``with_symptoms`` lists the symptoms without which nobody would ask it ("does it run again after a rest?" of a unit
    that drips); empty: always.
    ``lasting``: a repair does not change the answer (what the customer told), so it is not asked again after one.
    ``does``: what the dialogue calls upon it for ("lock-out": to lock the power out, wherever a step asks for that).
    ``sets_energy`` is only for the safety procedures, on the outcome named there; ``proves`` is the place at which a
    procedure shows a voltage to be absent, and ``absent`` which (mains, stored). A place is proved dead when all that
    its procedures show was found absent.

    What it does to hands and machine (``touching`` explains each): ``touches`` lists what hands come to and where;
    ``takes_off`` the things that it disconnects, removes or clips on (ids of ``taken-off.yaml``) and that stay so when
    it ends; ``puts_back`` those that it puts back itself; ``with_off`` those that it needs off, so that they are not
    ordered back before its power. ``bus_below_v``: a stored voltage, in V, below which the bus must have been measured
    where the usual limit is too high (diode tests: 1). ``circuit``: what it needs of the refrigerant circuit and makes
    of it. ``may_energize``: following it can close the power (a reset, a remote, a restart), so that whatever was
    proved dead is live again. ``waits``: minutes that must have gone by before the question of that key is asked
    (nitrogen and vacuum that must hold).
    ``pins``: what of the unit's profile names the terminals or the plug, told behind the instruction.
    ``tells_as``: another check that sees the same; what that one tells of the suspects, this one tells too.
    ``closes``: it belongs to the general proof that closes every repair ("any"), or one after a complaint about cooling
    or about heating (``Symptom.mode``).
    """

    id: Slug
    title: str
    phrases: tuple[str, ...] = ()
    why: Spoken
    energy: Energy
    where: Where
    precautions: tuple[Slug, ...] = ()
    tools: tuple[str, ...] = ()
    minutes: Annotated[float, Field(gt=0, le=120)]
    probes: str = ""
    pins: Pins | None = None
    ask: Annotated[tuple[Question, ...], Field(min_length=1)]
    judge: Judge
    outcomes: dict[Slug, Outcome]
    otherwise: dict[Slug, Chance] = {}
    tells: dict[Slug, dict[Slug, Chance]] = {}
    tells_as: Slug | None = None
    needs: tuple[Slug, ...] = ()
    after: tuple[Slug, ...] = ()
    only_if: dict[Slug, tuple[Slug, ...]] = {}
    with_symptoms: tuple[Slug, ...] = ()
    lasting: bool = False
    follow_up: dict[Slug, Slug] = {}
    does: Does | None = None
    sets_energy: dict[Slug, Energy] = {}
    proves: At | None = None
    absent: tuple[Literal["mains", "stored"], ...] = ()
    touches: tuple[Touch, ...] = ()
    takes_off: tuple[Slug, ...] = ()
    puts_back: tuple[Slug, ...] = ()
    with_off: tuple[Slug, ...] = ()
    bus_below_v: Annotated[float, Field(gt=0, le=30)] | None = None
    circuit: CircuitUse = CircuitUse()
    may_energize: bool = False
    closes: Literal["any", "cooling", "heating"] | None = None
    waits: dict[Slug, Annotated[float, Field(gt=0, le=1440)]] = {}


class Repair(Model):
    """What mends a suspect: spoken instruction, the energy it needs, its cautions.

    ``touches``, ``takes_off``, ``puts_back``, ``circuit`` and ``may_energize`` as in ``Check``.
    """

    say: Spoken
    energy: Energy
    where: Where
    precautions: tuple[Slug, ...] = ()
    tools: tuple[str, ...] = ()
    minutes: Annotated[float, Field(gt=0, le=1440)]
    touches: tuple[Touch, ...] = ()
    takes_off: tuple[Slug, ...] = ()
    puts_back: tuple[Slug, ...] = ()
    circuit: CircuitUse = CircuitUse()
    may_energize: bool = False


class Suspect(Model):
    """A component and a way it can be at fault. ``weight`` is relative; ``confirm`` and ``proof`` are check ids.

    ``condemn`` is true when the repair throws a part away: such a suspect needs a confirming check that speaks for it,
    and every check of ``split`` with one of the outcomes named there, which clear what would look the same (the
    compressor before the module, the cable before the board). A split check that this unit has not falls away.
    ``roots`` are the suspects that may be behind it: they gain when it was mended at this unit before.
    ``library_weight``: the library's own weight where reviewed ones took its place (``own_weights``).
    """

    id: Slug
    component: str
    name: str  # as spoken: "the pipe sensor has drifted"
    phrases: tuple[str, ...] = ()  # ways to name the component: "float switch"
    weight: Annotated[float, Field(gt=0, le=1e6)]
    library_weight: float | None = None
    condemn: bool = False
    confirm: tuple[Slug, ...]
    split: dict[Slug, tuple[Slug, ...]] = {}
    roots: tuple[Slug, ...] = ()
    repair: Repair
    proof: Annotated[tuple[Slug, ...], Field(min_length=1)]
    needs: tuple[Slug, ...] = ()


class Symptom(Model):
    """A behaviour in plain words. ``shown_by`` is the chance of it under each suspect, ``otherwise`` under the rest.

    ``answers`` names checks that it already answers, with the outcome ({"indoor-display-look": dark}): they are not
    asked, and what depends on their outcome goes by it.
    ``same_as``: what a check finds that is the very same thing in other words ({"indoor-display-look.display": dark}):
    whoever tells the one has told the other.
    ``hazard``: the hazard that it raises at once ("it smells burnt", "the breaker trips at once").
    ``mode``: the mode of the unit that it is about, in which its repair is proved.
    ``one_of``: it is one of these, and nobody knows yet which: each suspect shows it as it shows the one that it shows
    most, and what is asked of any of them is asked of it. ``hint``: what is said once, to find out which.
    """

    id: Slug
    name: str
    phrases: Annotated[tuple[str, ...], Field(min_length=1)]
    shown_by: dict[Slug, Probability] = {}
    otherwise: Probability = 0.005
    one_of: tuple[Slug, ...] = ()
    hint: str = ""
    answers: dict[Slug, Slug] = {}
    same_as: dict[str, Slug] = {}
    hazard: Slug | None = None
    mode: Literal["cooling", "heating"] = "cooling"


class FaultFile(Model):
    """One system of the machine, from what it shows to the proof that it is mended.

    ``also_shown_by`` and ``also_tells`` add this file's suspects to a symptom or a check that stands in another
    file, so that one file shows one system whole; the loader merges them into the symptom or check.
    """

    system: str
    about: str
    symptoms: tuple[Symptom, ...] = ()
    suspects: tuple[Suspect, ...] = ()
    checks: tuple[Check, ...] = ()
    also_shown_by: dict[Slug, dict[Slug, Probability]] = {}
    also_tells: dict[Slug, dict[Slug, dict[Slug, Chance]]] = {}
