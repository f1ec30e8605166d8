"""What checks and repairs name: sources, figures, instruments, cautions."""

from __future__ import annotations

from typing import Literal

from assistant.language.meaning import Quantity
from assistant.library.kinds import Accuracy, Finite, Slug, Spoken
from assistant.library.touching import BroughtBy
from assistant.model import Model


class Source(Model):
    """Where a figure comes from. kind "practice" prints as "common practice, no source"."""

    id: Slug
    kind: Literal["published", "practice", "memory", "profile", "derived"]
    title: str
    edition: str = ""
    where: str = ""


class Figure(Model):
    """A number with its unit and the id of its source; every threshold is one of these."""

    value: Finite
    unit: str
    source: Slug
    mark: Literal["exact", "derived", "measured"] = "derived"


class ProfileFigure(Model):
    """A figure taken from the unit profile by dotted path, or ``otherwise`` when there is none."""

    profile: str
    otherwise: Figure | None = None


Limit = Figure | ProfileFigure


class Instrument(Model):
    """What a meter can do: accuracy = percent of reading + offset (in ``unit``); 95 % coverage.

    ``own`` is the part of the offset that each reading has afresh (all of it when not given): the rest is the same in
    every reading of this instrument. ``resolution`` is the step of its display. Both in ``unit``.
    ``caution``: what must be said before it is used (an instrument that itself injects a voltage).
    """

    id: Slug
    name: str
    quantity: Quantity
    unit: str
    percent_of_reading: Accuracy
    offset: Accuracy
    own: Accuracy | None = None
    resolution: Accuracy = 0.0
    range: tuple[Finite, Finite]
    caution: Slug | None = None
    source: Slug


class Precaution(Model):
    """A caution that is spoken before the check that names it; ``acknowledge`` waits for a yes.

    ``repeat``: "visit" once a visit; "changeover" again after each change of the energy state; "always" every time.
    ``say`` is the caution whole, as it is said the first time. ``again`` (else ``say``) is the whole order without
    its reasons, said after a changeover or at another place; ``short`` (else ``again``) the reminder of about three
    words within the same work at the same place.
    ``needs`` lists features of the unit without which it is left unsaid (a refrigerant that cannot burn).
    ``opens``: it is spoken before anything else of a visit. ``comes_with``: the touches that bring it, whatever their
    step names. ``guards``: it is the caution of readings on live metal ("live"), or of those where a voltage is looked
    for that should be gone ("dead"). ``open``: it is for a unit of which a cover stays off (true), or of which all are
    to be on (false); None: for both.
    """

    id: Slug
    say: Spoken
    again: str = ""
    short: str = ""
    acknowledge: bool = False
    repeat: Literal["visit", "changeover", "always"] = "visit"
    opens: bool = False
    comes_with: tuple[BroughtBy, ...] = ()
    guards: Literal["live", "dead"] | None = None
    open: bool | None = None
    needs: tuple[Slug, ...] = ()
    source: Slug
