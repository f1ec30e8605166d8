"""Answers and judged checks with what the verdicts went by."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from assistant.dialogue import facts as f
from assistant.dialogue.state import Given, VisitState
from assistant.language.meaning import CANONICAL_UNIT, Finding, Reading
from assistant.library.loader import Library
from assistant.library.models import Question
from assistant.record import wording
from assistant.record.course import Course, zoned
from assistant.record.model import AnswerLine, CheckLine
from assistant.visit.reading import Stamped

#: A share of a nominal value limits every quantity: it is shown with the check, not with the reading.
_OWN = frozenset({"percent", "count", "duration"})


def title(check: str, library: Library) -> str:
    """The name of a check, its id where the knowledge has it no more."""
    return library.checks[check].title if check in library.checks else check.replace("-", " ")


def checks(course: Course, library: Library) -> Iterable[CheckLine]:
    """Every verdict in the order it was given; one that a correction judged anew stands in its place."""
    kept: list[CheckLine] = []
    standing = [(r.check, {g.number for g in r.answers}) for r in course.state.results]
    for moment in course.moments:
        fact = moment.fact
        check = library.checks.get(fact.check)
        line = CheckLine(
            at=zoned(moment.at),
            id=fact.check,
            title=title(fact.check, library),
            role=fact.role,
            needs=check.energy if check else "",
            energy=moment.energy,
            verdict=fact.judgement.verdict,
            outcome=fact.judgement.outcome,
            says=wording.words(fact.judgement.says, library),
            answers=fact.answers,
            working=fact.judgement.working,
            bounds=fact.judgement.bounds,
            margin=fact.judgement.margin,
            standing=any(check_id == fact.check and set(fact.answers) <= known for check_id, known in standing),
            repairs=sum(course.repairs_before.get(number, 0) for number in fact.answers[:1]),
        )
        kept.append(line)
    # A correction judges the same run again: the earlier verdict of it no longer stands.
    seen: set[tuple[str, int]] = set()
    for place in range(len(kept) - 1, -1, -1):
        line = kept[place]
        run = next(
            (at for at, (check_id, known) in enumerate(standing) if check_id == line.id and set(line.answers) <= known),
            -1,
        )
        if line.standing and (line.id, run) in seen:
            kept[place] = line.model_copy(update={"standing": False})
        seen.add((line.id, run))
    return kept


def answers(
    facts: Sequence[Stamped], course: Course, library: Library, judged: Sequence[CheckLine]
) -> Iterable[AnswerLine]:
    """Every answer in the order given, also what was corrected or taken back."""
    status = _status(course.state)
    by_number = {number: line for line in judged for number in line.answers}
    for item in facts:
        if isinstance(item.fact, f.AnswerGiven | f.FactTold):
            line = _answer(item, item.fact, course, library)
            counts = status.get(item.fact.number, "taken back")
            check = by_number.get(item.fact.number)
            limits = check.bounds if check else ()
            own = tuple(b for b in limits if b.quantity == line.quantity or (b.quantity in _OWN and len(limits) == 1))
            alone = check is not None and len(check.answers) == 1 and line.quantity != ""
            margin = check.margin if check is not None and alone else None
            yield line.model_copy(update={"status": counts, "bounds": own if line.quantity else (), "margin": margin})


def _status(state: VisitState) -> dict[int, str]:
    pools: list[tuple[Given, ...]] = [result.answers for result in state.results]
    if state.run:
        pools.append(state.run.answers)
    pools.append(state.told)
    return {g.number: "corrected" if g.replaced else "counts" for pool in pools for g in pool}


def question_of(check: str, key: str, library: Library) -> Question | None:
    """A question of a check, None where the knowledge has it no more."""
    asked = library.checks[check].ask if check in library.checks else ()
    return next((question for question in asked if question.key == key), None)


def _answer(item: Stamped, fact: f.AnswerGiven | f.FactTold, course: Course, library: Library) -> AnswerLine:
    question = question_of(fact.check, fact.question, library)
    reading = fact.answer if isinstance(fact.answer, Reading) else None
    place_id = fact.place or (reading.place if reading else None) or ""
    if reading:
        said = wording.reading(reading)
    elif isinstance(fact.answer, Finding):
        said = wording.choice(question.choices if question else (), fact.answer.choice)
    else:
        said = getattr(fact.answer, "words", "")
    return AnswerLine(
        number=fact.number,
        at=zoned(item.at),
        check_id=fact.check,
        check=title(fact.check, library),
        question=f"{fact.check}.{fact.question}",
        place_id=place_id,
        place=wording.place(question, place_id),
        said=said,
        quantity=reading.quantity if reading else "",
        value=reading.spoken_value if reading else None,
        unit=reading.spoken_unit if reading else "",
        unit_assumed=reading.unit_assumed if reading else False,
        inside=reading.value if reading else None,
        inside_unit=CANONICAL_UNIT[reading.quantity] if reading else "",
        span=reading.span if reading else None,
        special=(reading.special or "") if reading else "",
        words=fact.words,
        ears=fact.ears,
        how=fact.how,
        probability=fact.probability,
        told=isinstance(fact, f.FactTold),
        status="counts",
        replaces=getattr(fact, "replaces", None),
        repairs=course.repairs_before.get(fact.number, 0),
    )
