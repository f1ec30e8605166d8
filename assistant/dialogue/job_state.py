"""What a visit knows of its job: for whom, which unit, what was noted, and how far its course has come."""

from __future__ import annotations

from assistant.job.ledger import Line
from assistant.job.memory import Job, KnownSite, KnownUnit
from assistant.job.plate import Plate, same_unit
from assistant.model import Model


class StepEnd(Model):
    """A step of the course that is over: ``key`` of check and zone, how, and what stays open."""

    check: str
    zone: str = ""
    how: str
    says: str = ""


class JobState(Model):
    """The part of a visit's state that is not the search. Immutable; a fold over the visit's facts.

    ``on`` is the visit's day; ``sites`` and ``jobs`` what may be named; ``recalled`` the chosen site as it is
    remembered. ``aside`` is the topic asked beside the visit, "" for none, ``settled`` those that were answered;
    ``fresh``: the last utterance was noted in the ledger. ``course`` is the id of the course, ``repeats`` the steps
    made again, ``inside`` the step whose fault is being looked for.
    """

    on: str = ""
    sites: tuple[tuple[str, str], ...] = ()
    jobs: tuple[Job, ...] = ()
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

    @property
    def unit(self) -> KnownUnit | None:
        """The unit as it is remembered, None for a new one."""
        units = self.recalled.units if self.recalled else ()
        return next((unit for unit in units if self.plate.id and same_unit(unit.plate, self.plate)), None)

    @property
    def points(self) -> tuple[StepEnd, ...]:
        """What stays open."""
        return tuple(end for end in self.ended if end.how == "open")

    def has_ended(self, check: str, zone: str) -> bool:
        """Whether this step of the course is over."""
        return any((end.check, end.zone) == (check, zone) for end in self.ended)
