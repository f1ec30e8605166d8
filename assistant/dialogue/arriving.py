"""Arriving: which site, whose unit, what the visit is for, and what is remembered of it."""

from __future__ import annotations

import re

from rapidfuzz import fuzz, process

from assistant.dialogue import facts as f
from assistant.dialogue import past
from assistant.dialogue.asking import PROFILE_UNKNOWN
from assistant.dialogue.job_asking import (
    NEW_VISIT,
    OF_JOB,
    OF_OPEN,
    OF_SITE,
    OF_UNIT,
    OPEN_VISITS,
    site_expectation,
    unit_choices,
)
from assistant.dialogue.plate_known import keep
from assistant.dialogue.plates import value_of
from assistant.dialogue.state import Stage
from assistant.dialogue.turn import Turn
from assistant.job.memory import Job, KnownSite, KnownUnit, OpenVisit
from assistant.job.plate import Plate
from assistant.language import closed
from assistant.language.named_choices import without_names
from assistant.language.names import make_and_model, spelt, without_lead
from assistant.language.written import as_words

#: How like (of 100) a name must be to a known one to be offered.
_NEAR = 78
#: How like to go on with an open visit in other words than its own: what stands there is said at once.
_SURELY = 88
#: "Go on with ...", "back to ...", "resume ...".
_GO_ON = re.compile(
    r"\s*(?:go on|carry on|continue|resume|back)\s+(?:with\s+|at\s+|to\s+)?(?:the\s+)?(.+)", re.IGNORECASE
)
#: So many sites may be named at once; the newest visited.
_MOST_SITES = 400
#: An answer to a question that was not asked is the name of nothing.
_NO_NAMES = frozenset({"yes", "no", "yeah", "yep", "nope", "ok", "okay", "done", "ready", "understood"})


def tell_what_is_known(turn: Turn) -> None:
    """At the beginning: the sites that may be named and the jobs of the day."""
    memory = turn.context.memory
    if not (memory.sites or memory.jobs):
        return
    sites = tuple((site.name, site.customer) for site in memory.sites[:_MOST_SITES])
    jobs = _with_done(turn)
    open_ = tuple((site.name, visit) for site in memory.sites for visit in site.open)
    turn.emit(f.SitesKnown(sites=sites, jobs=jobs, open=open_[:_MOST_SITES]))
    if jobs:
        turn.tell("day-list", "remark", count=len(jobs), first=jobs[0].site)


def _with_done(turn: Turn) -> tuple[Job, ...]:
    """The jobs of the day; of those at one site as many are done, the first ones, as it was visited today."""
    visited: dict[str, int] = {}
    for site in turn.context.memory.sites:
        visits = {visit.visit for unit in site.units for visit in unit.past if visit.on == turn.state.job.on}
        visited[site.name.lower()] = len(visits)
    jobs = []
    for job in turn.context.memory.jobs:
        left = visited.get(job.site.lower(), 0)
        visited[job.site.lower()] = left - 1
        jobs.append(job.model_copy(update={"done": left > 0}))
    return tuple(jobs)


# ---- the site ---------------------------------------------------------------------------------------------------


def site_named(turn: Turn, words: str) -> None:
    """A site in free words: a known one that is near is offered, a new one is confirmed where others are known."""
    name = spelt(words) or words.strip().rstrip(" .")
    meant = _open_meant(turn, words)
    if meant:
        site_chosen(turn, meant)
        return
    known = [name for name, _ in turn.state.job.sites]
    if not known:
        arrive(turn, name)
        return
    near = process.extractOne(as_words(name), [as_words(each) for each in known], scorer=fuzz.WRatio)
    if near is not None and near[1] >= _NEAR:
        turn.emit(f.AsideAsked(topic=f"site-near:{known[near[2]]}"))
    else:
        turn.emit(f.AsideAsked(topic=f"site-new:{name}"))


def _open_meant(turn: Turn, words: str) -> str:
    """The choice of the open visit that "go on with ..." names in other words than its own, else ""."""
    named = _GO_ON.match(words)
    if named is None:
        return ""
    choices = [one for one in site_expectation(turn.state.job).choices if one.id.startswith(OF_OPEN)]
    phrases = {phrase.removeprefix("go on with "): one.id for one in choices for phrase in one.phrases}
    likest = process.extractOne(as_words(named[1]), list(phrases), scorer=fuzz.WRatio)
    return phrases[likest[0]] if likest is not None and likest[1] >= _SURELY else ""


def site_chosen(turn: Turn, choice: str) -> None:
    """A known site, or a job of the day's list."""
    if choice.startswith(OF_OPEN):
        _, visit = turn.state.job.open[int(choice.removeprefix(OF_OPEN))]
        _go_over(turn, visit)
        return
    if choice.startswith(OF_SITE):
        arrive(turn, choice.removeprefix(OF_SITE))
        return
    number = int(choice.removeprefix(OF_JOB))
    job = turn.state.job.jobs[number]
    turn.emit(f.JobSet(visit_kind=job.kind, customer=job.customer, job=number))
    if job.about:
        turn.tell("job-about", "remark", about=job.about)
    arrive(turn, job.site)


def arrive(turn: Turn, name: str) -> None:
    """At the site ``name``: a visit that is open there is offered, else its units; what is remembered is recalled."""
    site = turn.context.memory.site(name) or KnownSite(name=name)
    if site.open:
        turn.emit(f.SiteRecalled(site=site))
        turn.emit(f.AsideAsked(topic=f"{OPEN_VISITS}:{name}"))
        return
    _at(turn, site, name)


def open_visit_answered(turn: Turn, name: str, choice: str) -> None:
    """Which of the site's open visits is gone on with; "new" for none of them."""
    site = turn.state.job.recalled or KnownSite(name=name)
    if choice == NEW_VISIT:
        _at(turn, site, name)
        return
    chosen = next((each for each in site.open if each.visit == choice), site.open[0])
    _go_over(turn, chosen)


def _go_over(turn: Turn, visit: OpenVisit) -> None:
    """What it says, the other visit says as it goes on."""
    turn.emit(f.WentOver(visit=visit.visit))
    turn.emit(f.VisitClosed(outcome="went-over"))


def _at(turn: Turn, site: KnownSite, name: str) -> None:
    turn.emit(f.Noted(topic="site", value=site.name, words=name))
    turn.tell("noted-site", "result", site=site.name)
    if site.customer and not turn.state.job.customer:
        turn.emit(f.JobSet(customer=site.customer))
    if site.units or site.place:
        turn.emit(f.SiteRecalled(site=site))
    turn.emit(f.StageEntered(stage=Stage.PROFILE))


# ---- the unit ---------------------------------------------------------------------------------------------------


def unit_named(turn: Turn, words: str) -> None:
    """A unit in free words: a known unit or a profile that is near is offered, else it is a new one."""
    said = without_lead(as_words(words))
    if said in _NO_NAMES:
        turn.tell("say-or-spell", "remark")
        return
    if any(f" {phrase} " in f" {said} " for phrase in PROFILE_UNKNOWN.phrases):  # "a two zone, no profile for it"
        no_profile(turn, words)
        return
    offers = {phrase: choice.id for choice in unit_choices(turn.state.job) for phrase in choice.phrases}
    offers |= {as_words(phrase): p.id for p in turn.library.profiles.values() for phrase in p.phrases}
    offers = {without_lead(phrase): offered for phrase, offered in offers.items()}
    near = process.extractOne(said, list(offers), scorer=fuzz.WRatio)
    if near is not None and near[1] >= _NEAR:
        turn.emit(f.AsideAsked(topic=f"profile-near:{offers[near[0]]}"))
    else:
        turn.emit(f.AsideAsked(topic=f"unit-new:{words.strip().rstrip(' .')}"))


def unit_new(turn: Turn, words: str) -> None:
    """A unit without a profile, by make and model in free words; supply and refrigerant are asked next."""
    name, (supply, refrigerant) = without_names(words, closed.SUPPLIES, closed.REFRIGERANTS)
    make, model = make_and_model(name or words)
    plate = Plate.model_validate({"make": make, "model": model, "supply": supply, "refrigerant": refrigerant})
    keep(turn, plate, words)
    turn.emit(f.Noted(topic="profile", value="", words=words))
    turn.tell("unit-noted", "result", unit=f"{make} {model}".strip())
    for field, value in _told_by(plate):
        turn.emit(f.Noted(topic=field, value=value, words=words))
        turn.tell("read-back", "result", answer=value_of(plate, field))
    _ask_what_lacks(turn, plate)


def profile_chosen(turn: Turn, profile_id: str, words: str) -> None:
    """A unit with a profile, known at this site or not."""
    profile = turn.library.profiles[profile_id]
    units = turn.state.job.recalled.units if turn.state.job.recalled else ()
    mine = [unit for unit in units if unit.plate.profile == profile_id]
    plate = mine[0].plate if len(mine) == 1 else _plate_of(turn, profile_id)
    turn.emit(f.Noted(topic="profile", value=profile_id, words=words))
    turn.tell("unit", "result", make=profile.make, model=profile.model)
    keep(turn, plate, words)
    past.tell_at_arrival(turn)
    turn.emit(f.StageEntered(stage=Stage.ZONE))


def no_profile(turn: Turn, words: str) -> None:
    """No profile: make and model stay open until the plate is taken."""
    turn.emit(f.Noted(topic="profile", value="", words=words))
    turn.tell("no-profile", "result")
    turn.emit(f.StageEntered(stage=Stage.SUPPLY))


def unit_chosen(turn: Turn, choice: str, words: str) -> None:
    """A known unit of the site, with all that its plate says."""
    unit = _unit(turn, choice.removeprefix(OF_UNIT))
    plate = unit.plate
    profile = plate.profile if plate.profile in turn.library.profiles else ""
    turn.emit(f.Noted(topic="profile", value=profile, words=words))
    turn.tell("unit-noted", "result", unit=plate.called)
    keep(turn, plate, words)
    past.tell_at_arrival(turn)
    if turn.state.profile:
        turn.emit(f.StageEntered(stage=Stage.ZONE))
        return
    for field, value in _told_by(plate):
        turn.emit(f.Noted(topic=field, value=value))
    _ask_what_lacks(turn, plate)


def _told_by(plate: Plate) -> list[tuple[str, str]]:
    """What the plate tells of supply and refrigerant, which are asked else."""
    told = (("supply", plate.supply), ("refrigerant", plate.refrigerant))
    return [(field, value) for field, value in told if value is not None]


def _ask_what_lacks(turn: Turn, plate: Plate) -> None:
    lacks = Stage.SUPPLY if plate.supply is None else Stage.REFRIGERANT if plate.refrigerant is None else Stage.ZONE
    turn.emit(f.StageEntered(stage=lacks))


def _unit(turn: Turn, unit: str) -> KnownUnit:
    units = turn.state.job.recalled.units if turn.state.job.recalled else ()
    return next(each for each in units if each.plate.id == unit)


def _plate_of(turn: Turn, profile_id: str) -> Plate:
    """What a profile tells of the plate."""
    profile = turn.library.profiles[profile_id]
    return Plate(
        profile=profile_id, make=profile.make, model=profile.model, supply=profile.supply.system,
        refrigerant=profile.refrigerant.name, charge_kg=profile.refrigerant.charge_kg,
        breaker_a=profile.supply.breaker_a, zones=tuple(zone.name for zone in profile.zones),
    )  # fmt: skip


def keep_from_stage(turn: Turn, **changes: object) -> None:
    """Supply or refrigerant as they were answered in the visit's own stages belong to the plate too."""
    keep(turn, turn.state.job.plate.model_copy(update=changes))
