"""The job: site, unit, ledger, what is asked beside the visit, the course, and who works."""

from __future__ import annotations

from typing import Literal

from assistant.job.ledger import Entry
from assistant.job.memory import Job, KnownSite, OpenVisit
from assistant.job.plate import Plate
from assistant.model import Model


class SitesKnown(Model):
    """What may be named as it began: sites with their customers, the jobs of the day, open visits with their sites."""

    kind: Literal["sites-known"] = "sites-known"
    sites: tuple[tuple[str, str], ...] = ()
    jobs: tuple[Job, ...] = ()
    open: tuple[tuple[str, OpenVisit], ...] = ()


class SiteRecalled(Model):
    """What is remembered of the site that was chosen: its units and their earlier visits."""

    kind: Literal["site-recalled"] = "site-recalled"
    site: KnownSite


class JobSet(Model):
    """What the visit is for (a course of ``knowledge/visits``, "repair" or "return"), and for whom.

    ``job`` is the place in the day's list from 0, None where it was not chosen from there.
    """

    kind: Literal["job-set"] = "job-set"
    visit_kind: str = ""
    customer: str = ""
    job: int | None = None


class PlateKept(Model):
    """What is known of the unit, whole, from now on."""

    kind: Literal["plate-kept"] = "plate-kept"
    plate: Plate
    words: str = ""


class LedgerNoted(Model):
    """An entry of the ledger; ``replaces`` the one with this number. ``at_s``: the visit's time."""

    kind: Literal["ledger-noted"] = "ledger-noted"
    number: int
    entry: Entry
    by: str = ""
    words: str = ""
    how: Literal["two ears", "confirmed by voice", "typed"] = "two ears"
    at_s: float = 0.0
    replaces: int | None = None


class LedgerStruck(Model):
    """An entry was taken out."""

    kind: Literal["ledger-struck"] = "ledger-struck"
    number: int


class AsideAsked(Model):
    """Something is asked beside what the visit is at ("plate.serial"); afterwards the visit goes on where it was."""

    kind: Literal["aside-asked"] = "aside-asked"
    topic: str


class AsideSettled(Model):
    kind: Literal["aside-settled"] = "aside-settled"
    topic: str


class CourseBegun(Model):
    """The visit follows a course from here."""

    kind: Literal["course-begun"] = "course-begun"
    course: str


class CourseStepEnded(Model):
    """A step of the course is over. ``how`` "open": it stays an open point, ``says`` which."""

    kind: Literal["course-step-ended"] = "course-step-ended"
    check: str
    zone: str = ""
    how: Literal["done", "open", "skipped"]
    says: str = ""


class CourseStepRepeated(Model):
    """What the step found was put right, so it is made again."""

    kind: Literal["course-step-repeated"] = "course-step-repeated"
    check: str
    zone: str = ""


class SearchOpened(Model):
    """A step of the course found a fault: the search begins inside the visit, and comes back to the step."""

    kind: Literal["search-opened"] = "search-opened"
    check: str
    zone: str = ""


class SearchClosed(Model):
    """The search inside the course is over. ``mended``: by a repair that was proved."""

    kind: Literal["search-closed"] = "search-closed"
    mended: bool


class ZoneChanged(Model):
    """Another indoor unit is in question than was named.

    ``only_named``: it was this one all along, and what was found there stays. ``elsewhere``: checks that were made or
    passed over at the unit before, and count for it alone.
    """

    kind: Literal["zone-changed"] = "zone-changed"
    zone: str
    only_named: bool = False
    elsewhere: tuple[str, ...] = ()


class TakenOver(Model):
    """A colleague goes on with the visit."""

    kind: Literal["taken-over"] = "taken-over"
    technician: str
    before: str = ""


class WentOver(Model):
    """The technician goes on with an open visit instead of this one, which ends with it."""

    kind: Literal["went-over"] = "went-over"
    visit: str
