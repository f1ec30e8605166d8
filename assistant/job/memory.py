"""What is remembered of earlier visits: sites, their units, what was found, mended, measured."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from assistant.job.plate import Plate, same_unit
from assistant.model import Model

#: What an unfinished visit has come to.
OPEN = "open"


#: In the key of what was computed of a check's readings, in place of the question.
COMPUTED = "computed"


class Measured(Model):
    """A reading that is kept for the unit's trend. ``key`` is check and question, ``place`` and ``zone`` where it was.

    What was computed of several readings (a superheat) has ``COMPUTED`` for the question, and the limits ``low`` and
    ``high`` that it was judged by ("3 K").

    ``value`` in the quantity's own unit; ``said`` as it was read back ("8.2 °F").
    """

    key: str
    title: str
    place: str = ""
    zone: str = ""
    value: float
    said: str
    low: str = ""
    high: str = ""


class HazardLeft(Model):
    """A hazard that stood as a visit ended: what raised it, and the checks with the outcomes that clear it."""

    hazard: str
    by: str
    cleared_by: tuple[tuple[str, tuple[str, ...]], ...] = ()


class ThingLeft(Model):
    """A thing that was off as a visit ended, and the places where hands go to put it back."""

    thing: str
    places: tuple[str, ...] = ()


class PastVisit(Model):
    """What one visit came to. ``on`` is its day (ISO 8601).

    ``hazards``, ``off`` and ``circuit`` are how it left the unit: so it is met by whoever comes next.
    """

    visit: str
    on: str
    kind: str = ""
    technician: str = ""
    fault: str = ""
    mended: tuple[str, ...] = ()
    outcome: str = ""
    points: tuple[str, ...] = ()
    charged_kg: float = 0.0
    recovered_kg: float = 0.0
    measured: tuple[Measured, ...] = ()
    hazards: tuple[HazardLeft, ...] = ()
    off: tuple[ThingLeft, ...] = ()
    circuit: tuple[str, ...] = ("charged",)


class KnownUnit(Model):
    """A unit and its visits, the newest first."""

    plate: Plate
    past: tuple[PastVisit, ...] = ()


class OpenVisit(Model):
    """A visit that was not finished: on which day (ISO 8601), to which unit, by whom."""

    visit: str
    on: str
    unit: str = ""
    technician: str = ""


class KnownSite(Model):
    """A site and its units. ``place``: whose rules apply there, where it was told; ``open``: visits not finished."""

    name: str
    customer: str = ""
    place: str = ""
    units: tuple[KnownUnit, ...] = ()
    open: tuple[OpenVisit, ...] = ()


class Job(Model):
    """One job of the day's list. ``kind`` is a kind of visit, empty where the list does not say.

    ``done``: the site was visited that day already.
    """

    at: str = ""
    customer: str = ""
    site: str = ""
    address: str = ""
    kind: str = ""
    about: str = ""
    done: bool = False


class Memory(Model):
    """All sites, the newest visited first, and the jobs of the day in their order."""

    sites: tuple[KnownSite, ...] = ()
    jobs: tuple[Job, ...] = ()

    def site(self, name: str) -> KnownSite | None:
        """The site of that name, or None."""
        return next((site for site in self.sites if site.name.lower() == name.lower()), None)


class Seen(Model):
    """One earlier visit as it is remembered: where, whose unit, and what it came to."""

    site: str
    customer: str = ""
    place: str = ""
    plate: Plate = Plate()
    past: PastVisit


def remember(seen: Iterable[Seen], jobs: tuple[Job, ...] = ()) -> Memory:
    """The memory of visits, given the newest first: of each unit the plate that was kept last counts."""
    sites: dict[str, KnownSite] = {}
    for each in seen:
        key = each.site.lower()
        if not key:
            continue
        site = sites.get(key, KnownSite(name=each.site))
        site = site.model_copy(
            update={
                "customer": site.customer or each.customer,
                "place": site.place or each.place,
                "units": _with(site.units, each),
                "open": (*site.open, *_open(each)),
            }
        )
        sites[key] = site
    return Memory(sites=tuple(sites.values()), jobs=jobs)


def _open(seen: Seen) -> tuple[OpenVisit, ...]:
    if seen.past.outcome != OPEN:
        return ()
    past, unit = seen.past, seen.plate.called if seen.plate.id else ""
    return (OpenVisit(visit=past.visit, on=past.on, unit=unit, technician=past.technician),)


def _with(units: tuple[KnownUnit, ...], seen: Seen) -> tuple[KnownUnit, ...]:
    if not seen.plate.id:
        return units
    for number, unit in enumerate(units):
        if same_unit(unit.plate, seen.plate):
            more = unit.model_copy(update={"past": (*unit.past, seen.past)})
            return (*units[:number], more, *units[number + 1 :])
    return (*units, KnownUnit(plate=seen.plate, past=(seen.past,)))


def spoken_day(on: str) -> str:
    """ "3 March 2026" of an ISO day; "" where the day is not known."""
    if not on:
        return ""
    day = date.fromisoformat(on)
    return f"{day.day} {day.strftime('%B')} {day.year}"
