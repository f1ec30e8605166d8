"""What a visit knows of its job: for whom, which unit, what was noted, and how far its course has come."""

from __future__ import annotations

from datetime import date

from assistant.job.ledger import Line
from assistant.job.memory import Job, KnownSite, KnownUnit, OpenVisit
from assistant.job.plate import Plate, same_unit
from assistant.model import Model

#: A repair that comes again within this many days is pointed out and weighs. Common practice, no source.
AGAIN_DAYS = 400


class StepEnd(Model):
    """A step of the course that is over: ``key`` of check and zone, how, and what stays open."""

    check: str
    zone: str = ""
    how: str
    says: str = ""


class JobState(Model):
    """The part of a visit's state that is not the search. Immutable; a fold over the visit's facts.

    ``on`` is the visit's day; ``sites``, ``jobs`` and ``open`` visits may be named; ``recalled`` is the chosen site
    as it is remembered. ``aside`` is the topic asked beside the visit, "" for none, ``settled`` those that were
    answered; ``fresh``: the last utterance was noted in the ledger. ``course`` is the id of the course, ``repeats``
    the steps made again, ``inside`` the step whose fault is being looked for. ``over``: the open visit that goes on
    instead.
    """

    on: str = ""
    sites: tuple[tuple[str, str], ...] = ()
    jobs: tuple[Job, ...] = ()
    open: tuple[tuple[str, OpenVisit], ...] = ()
    job: int | None = None
    recalled: KnownSite | None = None
    visit_kind: str = ""
    customer: str = ""
    plate: Plate = Plate()
    ledger: tuple[Line, ...] = ()
    fresh: bool = False
    aside: str = ""
    settled: tuple[str, ...] = ()
    course: str = ""
    ended: tuple[StepEnd, ...] = ()
    repeats: tuple[tuple[str, str], ...] = ()
    inside: tuple[str, str] | None = None
    technicians: tuple[str, ...] = ()
    over: str = ""

    @property
    def unit(self) -> KnownUnit | None:
        """The unit as it is remembered, None for a new one."""
        units = self.recalled.units if self.recalled else ()
        return next((unit for unit in units if self.plate.id and same_unit(unit.plate, self.plate)), None)

    @property
    def mended_lately(self) -> dict[str, str]:
        """Suspects that were mended at this unit within ``AGAIN_DAYS``, with the day, the newest first."""
        found: dict[str, str] = {}
        for visit in self.unit.past if self.unit else ():
            if not self.on or (date.fromisoformat(self.on) - date.fromisoformat(visit.on)).days <= AGAIN_DAYS:
                for suspect in visit.mended:
                    found.setdefault(suspect, visit.on)
        return found

    @property
    def points(self) -> tuple[StepEnd, ...]:
        """What stays open."""
        return tuple(end for end in self.ended if end.how == "open")

    def has_ended(self, check: str, zone: str) -> bool:
        """Whether this step of the course is over."""
        return any((end.check, end.zone) == (check, zone) for end in self.ended)
