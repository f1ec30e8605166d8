"""What is being asked right now, as the ears and the language must know it: ``expectation(turn-less state)``."""

from __future__ import annotations

from assistant.dialogue.altitude import ASKED as ALTITUDE
from assistant.dialogue.job_asking import (
    OPEN_VISITS,
    REPORTS,
    ZONE_CALLED,
    ZONE_OTHER,
    aside_expectation,
    open_visits_expectation,
    site_expectation,
    unit_choices,
)
from assistant.dialogue.nameable import components, indications
from assistant.dialogue.state import Given, Run, Stage, VisitState
from assistant.dialogue.units import zone_choices
from assistant.language.closed import NOTHING_REPORTED, REFRIGERANTS, SUPPLIES, YES_NO
from assistant.language.compare import is_both
from assistant.language.meaning import Choice, Expectation, Finding, Indication, Meaning, ReadingExpectation, Readings
from assistant.language.measured_in import all_in_system, units_assumed, units_said
from assistant.language.rooms import rooms
from assistant.language.units import to_canonical
from assistant.library.good import good_choice
from assistant.library.loader import Library
from assistant.library.models import Check, Question, ReadingAnswer
from assistant.library.profile import UnitProfile

#: What was asked back was said once more.
SAID_AGAIN = "said-again"
#: Not "yes": it is what one says to everything, and a caution counts by its own acknowledgement only.
UNDERSTOOD = (Choice(id="understood", phrases=("understood", "okay", "got it", "i understand")),)
READY = (Choice(id="ready", phrases=("ready", "i am ready")),)
REPAIR_DONE = (
    Choice(id="done", phrases=("done", "repair done", "it is done", "finished the repair")),
    Choice(id="not-possible", phrases=("not possible", "cannot do it", "no parts", "not today")),
)
#: What is mended when the technician takes the likeliest suspect on his own judgement.
MEND_LIKELIEST = Choice(id="mend-likeliest", phrases=("repair it anyway", "mend it anyway", "take the likeliest"))
NOTHING = (Choice(id="nothing", phrases=("no note", "nothing", "no")),)
NO_PROFILE = "no-profile"
PROFILE_UNKNOWN = Choice(
    id=NO_PROFILE,
    phrases=(
        "no profile",
        "unknown unit",
        "another make",
        "not listed",
        "not on the list",
        "i have no profile",
        "i don't have a profile",
        "there is no profile",
    ),
)
#: Where a skipped step leads; one that is not here is needed.
SKIP_TO = {
    Stage.SITE: Stage.PROFILE,
    Stage.PROFILE: Stage.SUPPLY,
    Stage.REFRIGERANT: Stage.ZONE,
    Stage.ZONE: Stage.INDICATION,
    Stage.REPAIR: Stage.UNSOLVED,
    Stage.REPAIR_NOTE: Stage.PROOF,
    Stage.UNSOLVED: Stage.CUSTOMER_NOTE,
    Stage.CUSTOMER_NOTE: Stage.CLOSED,
}


def may_skip(state: VisitState) -> bool:
    """Whether "skip" leads on from here."""
    return state.run is not None or state.asking_altitude or state.stage in SKIP_TO


def reading_expectation(answer: ReadingAnswer, given: tuple[Given, ...] = ()) -> ReadingExpectation:
    """The knowledge's reading in canonical bounds; places already answered come last, so "two to three" still fits."""
    low, high = (to_canonical(bound, answer.unit, answer.quantity) for bound in answer.plausible)
    taken = {item.place for item in given}
    places = tuple(sorted(answer.places, key=lambda place: place.id in taken))
    return ReadingExpectation(
        quantity=answer.quantity,
        unit=answer.unit,
        plausible=(min(low, high), max(low, high)),
        places=places,
        open_line=answer.open_line,
    )


def question_expectation(check: Check, question: Question, given: tuple[Given, ...] = ()) -> Expectation:
    """What a question of a check may be answered with, whoever asks it; ``given`` are its answers so far."""
    return Expectation(
        question=f"{check.id}.{question.key}",
        reading=reading_expectation(question.reading, given) if question.reading else None,
        choices=question.choices,
        good=good_choice(check, question),
        text=question.text,
        topic=check.title,
    )


def pending(check: Check, run: Run) -> tuple[Question, str | None] | None:
    """The next question of the run that has no answer, with the place still missing when it asks for several."""
    answers = run.live_answers()
    for question in check.ask:
        mine = [item for item in answers if item.question == question.key]
        if question.reading and question.reading.places:
            missing = [place.id for place in question.reading.places if all(item.place != place.id for item in mine)]
            if missing:
                return question, missing[0] if mine else None
        elif not mine:
            return question, None
    return None


def _question_of(library: Library, given: Given | None) -> Question | None:
    if given is None or given.check not in library.checks:
        return None
    return next((question for question in library.checks[given.check].ask if question.key == given.question), None)


def expectation(state: VisitState, library: Library, profile: UnitProfile | None) -> Expectation:
    """What the present question may be answered with. Commands are always understood besides.

    It follows from these three, and is kept for those that were asked for last: a turn asks several times.
    """
    global _asked_last
    last = _asked_last
    if last is None or last[0] is not state or last[1] is not library or last[2] is not profile:
        asked = all_in_system(_expectation(state, library, profile), state.system)
        _asked_last = last = (state, library, profile, asked)
    return last[3]


_asked_last: tuple[VisitState, Library, UnitProfile | None, Expectation] | None = None


def _expectation(state: VisitState, library: Library, profile: UnitProfile | None) -> Expectation:
    base = _present(state, library, profile)
    if state.acknowledging or state.emergency:  # nothing else is open beside a caution
        return base
    if state.refused:  # "no, three point eight" is said to the reading that was refused, in its unit
        return base.model_copy(update={"corrects": base.reading, "corrects_choices": base.choices})
    if state.altitude_last:
        return base.model_copy(update={"corrects": ALTITUDE.reading, "corrects_choices": ALTITUDE.choices})
    last = _question_of(library, state.last_answer())
    if last is None:
        return base
    return base.model_copy(
        update={
            "corrects": reading_expectation(last.reading) if last.reading else None,
            "corrects_choices": last.choices,
        }
    )


def _present(state: VisitState, library: Library, profile: UnitProfile | None) -> Expectation:
    if state.held:
        return Expectation(question="held", topic="Carry on.")
    if state.emergency is not None:
        return Expectation(question=f"emergency.{state.emergency}", choices=YES_NO, topic="Yes or no.")
    if state.unconfirmed is not None:
        under = underlying(state, library, profile)
        if state.unconfirmed.options:
            which = either_choices(state.unconfirmed.options, under.choices)
            return under.model_copy(
                update={
                    "question": "either",
                    "choices": which,
                    "choice_kind": "finding",
                    "text": False,
                    "reading": None,
                }
            )
        choices = YES_NO + _said_again(state.unconfirmed.meaning, under.choices)
        return under.model_copy(
            update={"question": "confirm", "choices": choices, "choice_kind": "finding", "text": False}
        )
    if state.finishing:
        return Expectation(question="visit.finish", choices=YES_NO, topic="Yes or no.")
    if state.acknowledging:
        first = state.acknowledging[0].precaution
        waiting = Expectation(question=f"precaution.{first}", choices=UNDERSTOOD, topic="Understood.")
        return _with_checks(state, waiting, library)
    return _with_checks(state, underlying(state, library, profile), library)


#: The answers to an either-or besides the options' own words.
FIRST_TO_THIRD = (
    Choice(id="option-1", phrases=("the first", "first", "the first one", "first one", "number one")),
    Choice(id="option-2", phrases=("the second", "second", "the second one", "second one", "number two")),
    Choice(id="option-3", phrases=("the third", "third", "the third one", "third one", "number three")),
)
NEITHER = Choice(id="neither", phrases=("neither", "neither one", "none of them", "none of those", "no"))
#: The third of them where it is the other two at once.
BOTH = Choice(id="option-3", phrases=("both", "both of them", "the two of them"))
#: So too, where they are no answer of an option's own.
_NEITHER_TOO = ("none", "nothing", "another")


def either_choices(options: tuple[Meaning, ...], under: tuple[Choice, ...]) -> tuple[Choice, ...]:
    """What an either-or may be answered with: which one, neither, or the words of an option."""
    named = {option.choice for option in options if isinstance(option, Finding | Indication)}
    taken = {phrase for choice in (*FIRST_TO_THIRD, NEITHER) for phrase in choice.phrases}
    theirs = {phrase for choice in under if choice.id in named for phrase in choice.phrases}
    too = tuple(phrase for phrase in _NEITHER_TOO if phrase not in theirs)
    neither = Choice(id=NEITHER.id, phrases=(*NEITHER.phrases, *too))
    which = FIRST_TO_THIRD[: len(options)]
    if is_both(options[-1]):
        last = which[-1]
        which = (*which[:-1], Choice(id=last.id, phrases=(*last.phrases, *BOTH.phrases)))
    either_way = (*which, neither)
    if (said := units_said(options)) is not None:
        in_it = zip(either_way, said, strict=False)
        either_way = (*(Choice(id=one.id, phrases=(*one.phrases, *unit)) for one, unit in in_it), neither)
    own = (
        Choice(id=choice.id, phrases=tuple(phrase for phrase in choice.phrases if phrase not in taken))
        for choice in under
        if choice.id in named
    )
    return (*either_way, *(choice for choice in own if choice.phrases))


def _said_again(asked_back: Meaning | None, choices: tuple[Choice, ...]) -> tuple[Choice, ...]:
    """The phrases that were asked back, which many say again instead of yes; not those that are a yes or a no."""
    if isinstance(asked_back, Readings):  # the unit that was not said
        units = units_assumed(asked_back)
        return (Choice(id=SAID_AGAIN, phrases=units),) if units else ()
    if not isinstance(asked_back, Finding | Indication):
        return ()
    taken = {phrase for choice in YES_NO for phrase in choice.phrases}
    phrases = [phrase for choice in choices if choice.id == asked_back.choice for phrase in choice.phrases]
    left = tuple(phrase for phrase in phrases if phrase not in taken)
    return (Choice(id=SAID_AGAIN, phrases=left),) if left else ()


def _may_jump(state: VisitState) -> bool:
    """Before a profile is known no check can be asked by name."""
    return state.stage not in (Stage.SITE, Stage.PROFILE, Stage.SUPPLY, Stage.REFRIGERANT, Stage.ZONE, Stage.CLOSED)


def beneath_confirmation(state: VisitState, library: Library, profile: UnitProfile | None) -> Expectation | None:
    """The question that an open "right?" or "which?" is about, answered by who says it anew instead of yes or no."""
    if state.unconfirmed is None or state.held or state.emergency is not None:
        return None
    return all_in_system(_with_checks(state, underlying(state, library, profile), library), state.system)


def _with_checks(state: VisitState, asked: Expectation, library: Library) -> Expectation:
    return asked.model_copy(update={"checks": components(library)}) if _may_jump(state) else asked


def underlying(state: VisitState, library: Library, profile: UnitProfile | None) -> Expectation:
    """What the open question itself may be answered with, whatever is being asked back about it."""
    if state.asking_altitude:
        return ALTITUDE
    last = state.to_correct
    question = _question_of(library, last)
    if last is not None and question is not None:  # what it should be
        return question_expectation(library.checks[last.check], question)
    if state.job.aside == REPORTS:
        shown = (*indications(library, profile), NOTHING_REPORTED)
        return Expectation(question="aside.reports", choices=shown, choice_kind="indication", topic="What it reports.")
    kind = state.job.aside.partition(":")[0]
    if kind in (ZONE_CALLED, ZONE_OTHER):
        return _zone_expectation(profile).model_copy(update={"question": f"aside.{kind}"})
    if state.job.aside.startswith(OPEN_VISITS):
        return open_visits_expectation(state.job)
    if state.job.aside:
        return aside_expectation(state.job.aside)
    if state.run is not None:
        return _of_run(state, state.run, library)
    if state.stage is Stage.SITE:
        return site_expectation(state.job)
    simple = _SIMPLE.get(state.stage)
    if simple is not None:
        return simple
    if state.stage is Stage.PROFILE:
        known = unit_choices(state.job)
        taken = {phrase for choice in known for phrase in choice.phrases}
        profiles = tuple(
            Choice(id=p.id, phrases=own)
            for p in library.profiles.values()
            if (own := tuple(phrase for phrase in p.phrases if phrase not in taken))
        )
        choices = (*known, *profiles, PROFILE_UNKNOWN)
        return Expectation(question="visit.profile", choices=choices, text=True, topic="Make and model of the unit.")
    if state.stage is Stage.ZONE:
        return _zone_expectation(profile, rooms())
    if state.stage in (Stage.INDICATION, Stage.UNSOLVED):
        anyway = (MEND_LIKELIEST,) if state.stage is Stage.UNSOLVED and state.likeliest else ()
        return Expectation(
            question=f"visit.{state.stage}",
            choices=indications(library, profile) + anyway,
            choice_kind="indication",
            topic="What the unit shows or does.",
        )
    if state.stage is Stage.REPAIR:
        return Expectation(question=f"repair.{state.suspect}", choices=REPAIR_DONE, topic="Repair done.")
    return Expectation(question=f"visit.{state.stage}")


def _zone_expectation(profile: UnitProfile | None, called: tuple[Choice, ...] = ()) -> Expectation:
    """The unit's zones by their names; ``called``: what a zone may be called that has no such name yet."""
    zones = zone_choices(profile)
    taken = {phrase for zone in zones for phrase in zone.phrases}
    free = tuple(choice for choice in called if taken.isdisjoint(choice.phrases))
    return Expectation(question="visit.zone", choices=(*zones, *free), names=True, topic="Which indoor unit.")


_SIMPLE = {
    Stage.SUPPLY: Expectation(question="visit.supply", choices=SUPPLIES, names=True, topic="Supply voltage."),
    Stage.REFRIGERANT: Expectation(
        question="visit.refrigerant", choices=REFRIGERANTS, names=True, topic="Refrigerant."
    ),
    Stage.REPAIR_NOTE: Expectation(
        question="visit.repair-note", text=True, choices=NOTHING, topic="What was repaired."
    ),
    Stage.CUSTOMER_NOTE: Expectation(question="visit.customer-note", text=True, choices=NOTHING, topic="A note."),
}


def _of_run(state: VisitState, run: Run, library: Library) -> Expectation:
    check = library.checks[run.check]
    now = pending(check, run)
    if state.wait_until_s is not None:  # a reading is taken whenever it is given
        early = now[0].reading if now else None
        reading = reading_expectation(early) if early else None
        return Expectation(question=f"{check.id}.wait", choices=READY, reading=reading, topic="Ready, or volts.")
    if now is None:
        return Expectation(question=check.id)
    question, place = now
    mine = tuple(item for item in run.live_answers() if item.question == question.key)
    asked = question_expectation(check, question, mine)
    return asked.model_copy(update={"question": f"{asked.question}.{place}"}) if place else asked
