"""The shape of knowledge/visits: kinds of visit that are no search."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from assistant.library.kinds import Circuit, Slug, Spoken
from assistant.model import Model


class CourseStep(Model):
    """One step of a course: a check, made once or in ``each_zone``; left out where the unit lacks what it needs.

    ``only_if``: outcomes of earlier steps without which it is left out. ``if_fails``: checks to be made first before
    the step is made again. ``symptom``: what a failure amounts to for the search.
    """

    check: Slug
    each_zone: bool = False
    only_if: dict[Slug, tuple[Slug, ...]] = {}
    if_fails: tuple[Slug, ...] = ()
    symptom: Slug | None = None


class Course(Model):
    """The way of a visit that is no search (``knowledge/visits``): its caution, its steps in order, and its end.

    ``begins`` is spoken first; ``circuit`` is what the refrigerant circuit holds then, where it is not charged.
    ``plate``: the unit's plate is asked for first, as far as it is not known. ``ends`` is the outcome when nothing
    stays open, ``ends_open`` when something does (the number of points follows). ``removes``: the unit is taken away,
    so that what is off stays off. ``listed``: what an office's list of the day calls such a visit.
    """

    id: Slug
    name: str
    begins: Spoken
    circuit: Circuit | None = None
    plate: bool = False
    steps: Annotated[tuple[CourseStep, ...], Field(min_length=1)]
    ends: str
    ends_open: str
    removes: bool = False
    listed: tuple[str, ...] = ()
