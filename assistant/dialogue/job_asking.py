"""What may be answered about the job: the site, the unit, and everything that is asked beside the visit (asides)."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import lru_cache

from assistant.dialogue.job_state import JobState
from assistant.job.memory import Job, KnownUnit, OpenVisit, spoken_day
from assistant.language.closed import REFRIGERANTS, SUPPLIES, YES_NO
from assistant.language.meaning import Choice, Expectation, Quantity, Reading, ReadingExpectation
from assistant.language.written import as_words
from assistant.messages.message import Message, message

#: Choices that lead to a site of the day's list, to a known site, and to a known unit of the site.
OF_JOB, OF_SITE, OF_UNIT, OF_OPEN = "job:", "site:", "unit:", "open:"
#: The topic that asks for one of a site's open visits, and the answer that none of them is meant.
OPEN_VISITS, NEW_VISIT = "open-visits", "no"
#: The topic that asks what display and lamps report.
REPORTS = "reports"
#: The topic that asks which zone is called so ("zone-called:bedroom").
ZONE_CALLED = "zone-called"
#: The topics that ask which indoor unit it is after all, and ("zone-wrong:zone-2") whether only its name was wrong.
ZONE_OTHER, ZONE_WRONG = "zone-other", "zone-wrong"
ONLY_NAMED = "only-named"
_NAME_OR_PLACE = (
    Choice(
        id=ONLY_NAMED,
        phrases=(
            *("only the name", "just the name", "the name", "i said the wrong name", "i just said it wrong"),
            *("i've been here all along", "same unit", "the same unit", "i was here the whole time", "wrong name"),
        ),
    ),
    Choice(
        id="moved",
        phrases=(
            *("another unit", "i go to another unit", "the other unit", "a different unit", "different unit"),
            *("i was at the wrong one", "i'm going there now", "going there now", "i'll go there", "i moved"),
        ),
    ),
)
#: It is not on the plate, or nobody knows it.
UNSAID = Choice(id="unsaid", phrases=("not on the plate", "it is not there", "not in the manual", "unreadable"))
ALL_GOOD = Choice(id="all-good", phrases=("all good", "nothing to correct", "that is right", "yes"))
PLACES = (
    Choice(id="eu", phrases=("european union", "in the european union", "europe")),
    Choice(id="us", phrases=("united states", "in the united states", "america")),
    Choice(id="other", phrases=("another place", "somewhere else", "neither")),
)
POINT = (
    Choice(id="search", phrases=("look for the fault", "look for it", "find the fault", "search")),
    Choice(id="open", phrases=("note it", "leave it open", "note it as open", "open point")),
    Choice(id="mended", phrases=("it is mended", "i mended it", "it is put right", "once more")),
)
_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")

#: The readings of the plate: quantity, unit assumed, plausible bounds in the quantity's own unit.
_READINGS: dict[str, tuple[Quantity, str, tuple[float, float]]] = {
    "charge_kg": ("mass", "kg", (0.1, 50.0)),
    "breaker_a": ("current", "A", (5.0, 200.0)),
    "pipe_m": ("length", "m", (0.5, 200.0)),
    "lift_m": ("length", "m", (0.0, 100.0)),
}
_CHOICES = {"supply": SUPPLIES, "refrigerant": REFRIGERANTS}
#: What of the plate may be corrected, and how it is called.
FIELD_CHOICES = (
    Choice(id="make", phrases=("make and model", "make", "the make", "the model")),
    Choice(id="serial", phrases=("serial number", "the serial number", "serial")),
    Choice(id="supply", phrases=("supply", "the supply")),
    Choice(id="refrigerant", phrases=("refrigerant", "the refrigerant")),
    Choice(id="charge_kg", phrases=("charge", "the charge")),
    Choice(id="breaker_a", phrases=("breaker", "the breaker")),
    Choice(id="pipe_m", phrases=("pipe length", "the pipe length", "length")),
    Choice(id="lift_m", phrases=("lift", "the lift", "height")),
    Choice(id="zones", phrases=("zones", "the zones", "indoor units")),
    Choice(id="name", phrases=("name", "the name")),
    ALL_GOOD,
)


def site_expectation(job: JobState) -> Expectation:
    """The site: free words, a known site, or a job of the day."""
    choices = (*_jobs(job.jobs), *_sites(job.sites), *_open(job.open)) if job.jobs or job.sites else ()
    return Expectation(question="visit.site", choices=_distinct(choices), text=True, topic="Name of the site.")


#: So many open visits of a site are offered, the newest first.
_MOST_OPEN = 4


def open_visits_expectation(job: JobState) -> Expectation:
    """One open visit: yes or no. Several: the unit of one, or a new visit."""
    found = job.recalled.open[:_MOST_OPEN] if job.recalled else ()
    question = f"aside.{OPEN_VISITS}"
    if len(found) == 1:
        go_on = Choice(id="yes", phrases=(*_YES.phrases, "go on with it", "go on", *_unit_said(found[0])))
        new = Choice(id=NEW_VISIT, phrases=(*_NO.phrases, *_ANOTHER))
        return Expectation(question=question, choices=_distinct((go_on, new)), topic="Yes or no.")
    choices = (Choice(id=each.visit, phrases=_unit_said(each) or ("the one without a unit",)) for each in found)
    new = Choice(id=NEW_VISIT, phrases=("none of them", "no", *_ANOTHER))
    return Expectation(question=question, choices=_distinct((*choices, new)), topic="Which unit, or a new visit.")


_YES, _NO = YES_NO
_ANOTHER = ("new visit", "a new visit", "another visit")


def _unit_said(visit: OpenVisit) -> tuple[str, ...]:
    made, _, name = visit.unit.partition(", ")
    return _phrases(
        name,
        f"the {name}" if name else "",
        made,
        visit.unit,
        *(f"the one of {n}" for n in visit.technician.split()[:1]),
    )


def open_visits_question(job: JobState) -> Message:
    """Which of the site's open visits goes on."""
    found = job.recalled.open[:_MOST_OPEN] if job.recalled else ()
    told = [_open_words(each) for each in found]
    return message("aside-open-visits", count=len(told), visits="; ".join(told))


def _open_words(visit: OpenVisit) -> str:
    return ", ".join(part for part in (visit.unit or "no unit", visit.technician, spoken_day(visit.on)) if part)


@lru_cache(maxsize=16)
def _open(visits: tuple[tuple[str, OpenVisit], ...]) -> tuple[Choice, ...]:
    """ "Go on with Quay Office", "go on with the server room": an unfinished visit, the newest where two fit."""
    found = []
    for number, (site, visit) in enumerate(visits):
        names = (*_unit_said(visit), *(f"{site} {name}" for name in _unit_said(visit)), *_phrases(site))
        said = [f"{how} {name}" for name in names for how in ("go on with", "go on at")]
        found.append(Choice(id=f"{OF_OPEN}{number}", phrases=tuple(dict.fromkeys(said))))
    return tuple(found)


def unit_choices(job: JobState) -> tuple[Choice, ...]:
    """The known units of the site."""
    units = job.recalled.units if job.recalled else ()
    return _distinct(tuple(Choice(id=OF_UNIT + unit.plate.id, phrases=_unit_phrases(unit)) for unit in units))


def _unit_phrases(unit: KnownUnit) -> tuple[str, ...]:
    plate = unit.plate
    said = (plate.name, f"the {plate.name}" if plate.name else "", plate.called, f"{plate.make} {plate.model}")
    return tuple(dict.fromkeys(words for text in said if (words := as_words(text))))


@lru_cache(maxsize=16)
def _sites(sites: tuple[tuple[str, str], ...]) -> tuple[Choice, ...]:
    found = []
    for name, customer in sites:
        phrases = dict.fromkeys(words for text in (name, customer) if (words := as_words(text)))
        found.append(Choice(id=OF_SITE + name, phrases=tuple(phrases)))
    return tuple(choice for choice in found if choice.phrases)


@lru_cache(maxsize=16)
def _jobs(jobs: tuple[Job, ...]) -> tuple[Choice, ...]:
    """The jobs of the day, those that are not done first: where two are at one site its name means the open one."""
    next_one = next((number for number, job in enumerate(jobs) if not job.done), None)
    order = sorted(range(len(jobs)), key=lambda number: jobs[number].done)
    return tuple(_job(jobs[number], number, number == next_one, number == len(jobs) - 1) for number in order)


def _job(job: Job, number: int, is_next: bool, is_last: bool) -> Choice:
    """A job by its number, its street, its customer and its site."""
    street, nth = street_of(job.address), _ORDINALS[number] if number < len(_ORDINALS) else ""
    return Choice(
        id=f"{OF_JOB}{number}",
        phrases=_phrases(
            *((f"{nth} job", f"the {nth} job") if nth else ()),
            *(("next job", "the next job") if is_next else ()),
            *(("last job", "the last job") if is_last else ()),
            *((f"the one in {street}", f"the one on {street}") if street else ()),
            job.customer,
            job.site,
        ),
    )


def _phrases(*said: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(words for text in said if (words := as_words(text))))


def street_of(address: str) -> str:
    """The street of an address without its number: "Mill Street" of "12 Mill Street, Norwich"."""
    return re.sub(r"\b\d+\w?\b", " ", address.split(",")[0]).strip()


def _distinct(choices: tuple[Choice, ...]) -> tuple[Choice, ...]:
    """No phrase twice: the first choice keeps it."""
    taken: set[str] = set()
    found = []
    for choice in choices:
        own = tuple(phrase for phrase in choice.phrases if phrase not in taken)
        taken.update(own)
        if own:
            found.append(Choice(id=choice.id, phrases=own))
    return tuple(found)


# ---- asides -----------------------------------------------------------------------------------------------------


def aside_expectation(topic: str) -> Expectation:
    """What may be answered to the aside ``topic`` ("plate.serial", "site-near:The Mill")."""
    kind = topic.partition(":")[0]
    question = f"aside.{kind.replace('_', '-').replace('.', '-')}"
    head, _, field = kind.partition(".")
    if head == "plate":
        return _plate(question, field)
    return _ASIDES[kind](question)


def plate_answers(job: JobState) -> list[tuple[str, Reading]]:
    """The lengths that were asked for the plate, which no profile tells, each with the key of its question."""
    found = []
    for field, value in (("pipe_m", job.plate.pipe_m), ("lift_m", job.plate.lift_m)):
        if value is not None and f"plate.{field}" in job.settled:
            quantity, unit, _ = _READINGS[field]
            said = Reading(quantity=quantity, value=value, spoken_value=value, spoken_unit=unit)
            found.append((f"aside.plate-{field.replace('_', '-')}", said))
    return found


def _plate(question: str, field: str) -> Expectation:
    if field in _READINGS:
        quantity, unit, plausible = _READINGS[field]
        reading = ReadingExpectation(quantity=quantity, unit=unit, plausible=plausible)
        return Expectation(question=question, reading=reading, choices=(UNSAID,), topic="From the plate.")
    if field in _CHOICES:
        return Expectation(question=question, choices=(*_CHOICES[field], UNSAID), topic="From the plate.")
    return Expectation(question=question, choices=(UNSAID,), text=True, topic="From the plate.")


def _yes_no_or_words(question: str) -> Expectation:
    return Expectation(question=question, choices=YES_NO, text=True, topic="Yes, no, or the right words.")


def _mass(question: str) -> Expectation:
    reading = ReadingExpectation(quantity="mass", unit="kg", plausible=(0.0, 100.0))
    return Expectation(question=question, reading=reading, text=True, topic="What it should be.")


_ASIDES: dict[str, Callable[[str], Expectation]] = {
    "site-near": _yes_no_or_words,
    "profile-near": _yes_no_or_words,
    "site-new": _yes_no_or_words,
    "unit-new": _yes_no_or_words,
    "plate-which": lambda question: Expectation(question=question, choices=FIELD_CHOICES, topic="What to correct."),
    "ledger": _mass,
    "ledger-words": lambda question: Expectation(question=question, text=True, topic="What it should be."),
    "take-over": lambda question: Expectation(question=question, text=True, topic="Name of the technician."),
    "place": lambda question: Expectation(question=question, choices=PLACES, topic="European Union, United States."),
    ZONE_WRONG: lambda question: Expectation(question=question, choices=_NAME_OR_PLACE, topic="The name, or the unit."),
    "open-point": lambda question: Expectation(question=question, choices=POINT, topic="What to do with it."),
}


def is_at_the_unit(topic: str) -> bool:
    """Whether an aside asks what has to be read at the unit itself."""
    return topic == REPORTS or topic.startswith("plate.")


def aside_question(topic: str) -> Message:
    """The question of an aside."""
    kind, _, about = topic.partition(":")
    name = "aside-" + kind.replace(".", "-").replace("_", "-")
    if kind == "profile-near":  # an id, told as it is said
        about = about.removeprefix(OF_UNIT).replace("-", " ")
    return message(name, words=about) if about and not kind.startswith("plate.") else message(name)
