"""How the facts of the job change what is known: site, unit, ledger, course, who works."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from assistant.dialogue import facts as f
from assistant.dialogue.job_state import JobState, StepEnd
from assistant.dialogue.state import Stage, VisitState
from assistant.job.ledger import Line


def kept_in_going_back(now: JobState, earlier: JobState) -> JobState:
    """What "go back" undoes: the course's progress and the site, never what was noted or is known of the unit."""
    return earlier.model_copy(
        update={"ledger": now.ledger, "plate": now.plate, "technicians": now.technicians, "on": now.on, "aside": ""}
    )


def _job(state: VisitState, **changes: Any) -> VisitState:
    return state.model_copy(update={"job": state.job.model_copy(update=changes)})


def _job_set(state: VisitState, fact: f.JobSet) -> VisitState:
    job = state.job
    return _job(
        state,
        visit_kind=fact.visit_kind or job.visit_kind,
        customer=fact.customer or job.customer,
        job=job.job if fact.job is None else fact.job,
    )


def _ledger_noted(state: VisitState, fact: f.LedgerNoted) -> VisitState:
    lines = tuple(_struck(line, fact.replaces) for line in state.job.ledger)
    line = Line(number=fact.number, entry=fact.entry, by=fact.by, at_s=fact.at_s)
    state = state.model_copy(update={"misheard": 0})
    return _job(state, ledger=(*lines, line), fresh=True)


def _struck(line: Line, number: int | None) -> Line:
    return line.model_copy(update={"struck": True}) if line.number == number else line


def _step_ended(state: VisitState, fact: f.CourseStepEnded) -> VisitState:
    end = StepEnd(check=fact.check, zone=fact.zone, how=fact.how, says=fact.says)
    others = tuple(old for old in state.job.ended if (old.check, old.zone) != (fact.check, fact.zone))
    skipped = tuple(check for check in state.skipped if check != fact.check)
    return _job(state.model_copy(update={"skipped": skipped}), ended=(*others, end))


def _search_opened(state: VisitState, fact: f.SearchOpened) -> VisitState:
    state = state.model_copy(update={"stage": Stage.CHECK, "suspect": None, "proof": None, "likeliest": ""})
    return _job(state, inside=(fact.check, fact.zone))


def _search_closed(state: VisitState, fact: f.SearchClosed) -> VisitState:
    return _job(state.model_copy(update={"stage": Stage.COURSE, "run": None}), inside=None)


def _taken_over(state: VisitState, fact: f.TakenOver) -> VisitState:
    before = state.job.technicians or ((fact.before,) if fact.before else ())
    names = tuple(dict.fromkeys((*before, fact.technician)))
    return _job(state.model_copy(update={"technician": fact.technician}), technicians=names)


HANDLERS: dict[type, Callable[[VisitState, Any], VisitState]] = {
    f.SitesKnown: lambda s, x: _job(s, sites=x.sites, jobs=x.jobs, open=x.open),
    f.SiteRecalled: lambda s, x: _job(s, recalled=x.site),
    f.JobSet: _job_set,
    f.PlateKept: lambda s, x: _job(s, plate=x.plate),
    f.LedgerNoted: _ledger_noted,
    f.LedgerStruck: lambda s, x: _job(s, ledger=tuple(_struck(line, x.number) for line in s.job.ledger)),
    f.AsideAsked: lambda s, x: _job(s, aside=x.topic).model_copy(update={"correcting": None}),
    f.AsideSettled: lambda s, x: _job(s, aside="", settled=tuple(dict.fromkeys((*s.job.settled, x.topic)))),
    f.CourseBegun: lambda s, x: _job(s, course=x.course),
    f.CourseStepEnded: _step_ended,
    f.CourseStepRepeated: lambda s, x: _job(s, repeats=(*s.job.repeats, (x.check, x.zone))),
    f.SearchOpened: _search_opened,
    f.SearchClosed: _search_closed,
    f.TakenOver: _taken_over,
    f.WentOver: lambda s, x: _job(s.model_copy(update={"stage": Stage.CLOSED}), over=x.visit, aside=""),
}
