"""What a step does to the machine and to the hands: touches, things taken off, the circuit, hazards.

The dialogue derives the energy state and the cautions of a step from these, never from its words; the library check
finds a step whose words are at odds with them.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from assistant.language.meaning import EmergencyKind
from assistant.library.kinds import At, Bar, Circuit, Energy, Slug, Spoken, Touched
from assistant.model import Model


class Touch(Model):
    """Something that hands, probes or tools come to in a step, and where.

    ``what``:

    - ``nothing``: looked at, listened to or asked only;
    - ``cover``: a cover is lifted or taken off behind which live metal may lie;
    - ``board``, ``terminals``, ``conductor-ends``, ``plug``, ``motor``: electrical parts that are handled, pulled,
      tugged or measured dead; each needs its place *proved dead*;
    - ``live-probe``: probes on live metal, the unit powered; needs *live* and the cautions of live work;
    - ``moving-parts``: fan, wheel or louvre within reach of fingers; needs *isolated*;
    - ``refrigerant-circuit``: the circuit is opened, or a hose with pressure is put on it;
    - ``refrigerant-joint``: a joint is soaped, wiped or felt from outside, nothing opened;
    - ``flame``: brazing or any flame; needs a circuit that is emptied and purged;
    - ``water``: water is poured, sprayed or stands where electrical parts are near;
    - ``height``: a ladder, a roof edge, a bracket; ``hot``, ``sharp``, ``heavy``: what they say.
    """

    what: Touched
    at: At = "anywhere"


class BroughtBy(Model):
    """A touch that brings a caution: any of ``what``, at any of ``at``, in a step of any energy of ``energy``.

    Where ``at`` or ``energy`` is empty, it is any.
    """

    what: Annotated[tuple[Touched, ...], Field(min_length=1)]
    at: tuple[At, ...] = ()
    energy: tuple[Energy, ...] = ()

    def holds(self, touch: Touch, energy: Energy) -> bool:
        """Whether this touch in such a step is one of these."""
        there = not self.at or touch.at in self.at
        return touch.what in self.what and there and (not self.energy or energy in self.energy)


class CircuitUse(Model):
    """The refrigerant circuit in a step. ``needs``: it must be in one of these; ``makes``: what it is afterwards.

    ``passes``: what else it may be left as where the step was begun and not brought to its end.
    ``needs`` empty: any state will do. A check that only reads a gauge on a charged circuit has ``needs: [charged]``.
    """

    needs: tuple[Circuit, ...] = ()
    makes: Circuit | None = None
    passes: tuple[Circuit, ...] = ()


class TakenOff(Model):
    """A thing that a step disconnects, removes or clips on, and what is said to undo it (``knowledge/taken-off.yaml``).

    ``say`` orders it back whole ("Leads U, V and W back on their letters, tight."); ``name`` names it in a list
    ("the compressor leads"). What is off is kept in the visit's state, and ordered back before the power returns and
    before the visit ends. ``outside``: it goes back without a hand inside (a cover), so nothing need be proved dead
    for it. ``cover``: live metal is open to fingers while it is off.
    """

    id: Slug
    name: str
    say: Spoken
    outside: bool = False
    cover: bool = False


class Hazard(Model):
    """A finding that latches: it bars what can hurt until its repair is recorded and proved (``hazards.yaml``).

    ``name`` completes "Barred: ..."; ``say`` tells what it is and what it forbids; ``first`` what to do first, spoken
    before all else when it is raised by an emergency word or a symptom. ``bars``: closing the ``power``, a ``flame``,
    a hand that would ``touch`` anything inside, or to ``stay`` there at all.

    ``cleared_by``: the checks with the outcomes that clear it, all of them, each measured anew after it was raised; a
    check that this unit has not is left out. Empty: the check that raised it must pass. ``repair``: a repair must have
    been recorded too; false for what is only a question still open (dead tests before power). ``lasts``: nothing
    within this visit clears it. ``also``: hazards that are raised along with it; ``symptom``: the symptom that it
    amounts to. One that bars nothing is only spoken. ``emergency``: what is called out that raises it; ``unshows``:
    then nothing that was shown of the power counts any more, because it was wrong or somebody has been at the switch.
    ``left_as``: the hazard as the next visit meets it where this one ended with it ("" for none of it); None: as it is.
    """

    id: Slug
    name: str
    say: Spoken
    first: str = ""
    bars: tuple[Bar, ...] = ()
    cleared_by: dict[Slug, tuple[Slug, ...]] = {}
    repair: bool = True
    lasts: bool = False
    also: tuple[Slug, ...] = ()
    symptom: Slug | None = None
    emergency: tuple[EmergencyKind, ...] = ()
    unshows: bool = False
    left_as: str | None = None
    source: Slug
