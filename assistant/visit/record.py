"""The service record of a visit: a fold over its facts, ready to be rendered. Nothing here is spoken or judged."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from assistant.dialogue import facts as f
from assistant.dialogue import phrases
from assistant.dialogue.closing import left_as
from assistant.dialogue.evolve import fold
from assistant.dialogue.state import Given, Result, VisitState
from assistant.language.meaning import Reading
from assistant.library.loader import Library
from assistant.library.models import Question
from assistant.messages.catalogue import catalogue
from assistant.messages.message import Message
from assistant.model import Model
from assistant.reasoning.judgement import Working
from assistant.visit.journal import Stamped, VisitRow

#: What a check was done for.
ROLE_WORDS = {
    "diagnosis": "to find the fault",
    "changeover": "to change the energy state",
    "asked": "asked for by name",
    "proof": "to prove the repair",
}

CAUTION = (
    "Local codes, the maker's manual and licensed practice come first. This record states what was measured and "
    "computed during the visit; it certifies nothing."
)


class AnswerLine(Model):
    """One recorded answer. ``status``: counts, corrected (a later one replaced it), or taken back."""

    number: int
    at: datetime
    check: str
    question: str
    place: str
    said: str  # as read back: "1.9 Ω", "same order"
    quantity: str = ""
    value: float | None = None
    unit: str = ""
    words: str
    ears: tuple[tuple[str, str], ...]
    how: str
    probability: float
    status: str
    replaces: int | None = None


class CheckLine(Model):
    """One judged check with the working behind its verdict."""

    at: datetime
    id: str
    title: str
    role: f.Role
    energy: str
    verdict: str
    outcome: str
    says: str
    answers: tuple[int, ...]
    working: tuple[Working, ...]


class TimedLine(Model):
    """Something said, cautioned or changed, with its time."""

    at: datetime
    who: str
    text: str
    trust: str = ""


class RepairLine(Model):
    """A repair and whether it was proved."""

    suspect: str
    name: str
    component: str
    done: bool
    words: str
    proof: str


class Record(Model):
    """Everything the visit leaves behind."""

    visit: str
    origin: str
    opened_at: datetime
    ended_at: datetime
    closed: bool
    outcome: str
    left: tuple[str, ...]
    technician: str
    site: str
    unit: str
    unit_source: str
    zone: str
    refrigerant: str
    library: str
    indications: tuple[str, ...]
    fault: str
    fault_probability: float
    fault_reason: str
    repairs: tuple[RepairLine, ...]
    customer_note: str
    answers: tuple[AnswerLine, ...]
    checks: tuple[CheckLine, ...]
    skipped: tuple[str, ...]
    energy: tuple[TimedLine, ...]
    cautions: tuple[TimedLine, ...]
    calculations: tuple[Working, ...]
    transcript: tuple[TimedLine, ...]
    caution: str = CAUTION


def build(row: VisitRow, facts: Iterable[Stamped], library: Library) -> Record:
    """The record of the visit ``row`` from its journalled facts."""
    return _Builder(row, list(facts), library).record()


class _Builder:
    def __init__(self, row: VisitRow, facts: list[Stamped], library: Library) -> None:
        self.row = row
        self.facts = facts
        self.library = library
        self.state: VisitState = fold(item.fact for item in facts)

    def record(self) -> Record:
        state, library = self.state, self.library
        profile = library.profiles.get(state.profile or "")
        opened = next((x.fact for x in self.facts if isinstance(x.fact, f.VisitOpened)), None)
        named = next((x for x in reversed(state.course) if isinstance(x, f.FaultNamed)), None)
        noted = [self._indication(x) for x in state.course if isinstance(x, f.IndicationNoted)]
        zone = next((z.name for z in (profile.zones if profile else ()) if z.id == state.zone), state.zone or "")
        return Record(
            visit=self.row.id,
            origin=self.row.origin,
            opened_at=self.row.opened_at,
            ended_at=self.facts[-1].at if self.facts else self.row.opened_at,
            closed=state.closing is not None,
            outcome=state.closing or "open",
            left=tuple(catalogue().words(each, library) for each in self._left()),
            technician=state.technician,
            site=state.note("site") or "",
            unit=f"{profile.make} {profile.model}" if profile else "no profile: general values",
            unit_source=profile.source if profile else "general values, each with its source",
            zone=zone,
            refrigerant=profile.refrigerant.name if profile else state.note("refrigerant") or "",
            library=opened.library if opened else "",
            indications=tuple(dict.fromkeys(noted)),
            fault=library.suspects[named.suspect].name if named and named.suspect in library.suspects else "",
            fault_probability=named.probability if named else 0.0,
            fault_reason=catalogue().in_words(named.reason, library) if named else "",
            repairs=tuple(self._repairs()),
            customer_note=state.note("customer") or "",
            answers=tuple(self._answers()),
            checks=tuple(self._check(result) for result in state.results),
            skipped=tuple(library.checks[x].title if x in library.checks else x for x in state.skipped),
            energy=tuple(self._energy()),
            cautions=tuple(self._cautions()),
            calculations=tuple(self._calculations()),
            transcript=tuple(self._transcript()),
        )

    def _left(self) -> tuple[Message, ...]:
        """How the unit is left, first of all: as it was said at the end, or as it stands in a visit that is open."""
        closed = next((x.fact for x in reversed(self.facts) if isinstance(x.fact, f.VisitClosed)), None)
        return closed.left if closed is not None else left_as(self.state, self.library)

    def _indication(self, fact: f.IndicationNoted) -> str:
        symptom = self.library.symptoms.get(fact.symptom)
        name = symptom.name if symptom else fact.symptom
        return f"{fact.shown}: {name}" if fact.shown else name

    def _repairs(self) -> list[RepairLine]:
        """Each repair with the note and the proof that followed it."""
        lines: list[RepairLine] = []
        for fact in self.state.course:
            if isinstance(fact, f.RepairDone):
                lines.append(self._repair(fact))
            elif isinstance(fact, f.Noted) and fact.topic == "repair" and lines:
                lines[-1] = lines[-1].model_copy(update={"words": fact.value})
            elif isinstance(fact, f.ProofSettled) and lines:
                lines[-1] = lines[-1].model_copy(update={"proof": fact.proof})
        return lines

    def _repair(self, fact: f.RepairDone) -> RepairLine:
        suspect = self.library.suspects.get(fact.suspect)
        return RepairLine(
            suspect=fact.suspect,
            name=suspect.name if suspect else fact.suspect,
            component=suspect.component if suspect else "",
            done=fact.done,
            words="",
            proof="not proved",
        )

    def _question(self, check: str, key: str) -> Question | None:
        asked = self.library.checks[check].ask if check in self.library.checks else ()
        return next((question for question in asked if question.key == key), None)

    def _title(self, check: str) -> str:
        return self.library.checks[check].title if check in self.library.checks else check

    def _answers(self) -> Iterable[AnswerLine]:
        status = self._status()
        for item in self.facts:
            if isinstance(item.fact, f.AnswerGiven):
                yield self._answer(item.at, item.fact, status.get(item.fact.number, "taken back"))

    def _status(self) -> dict[int, str]:
        pools: list[tuple[Given, ...]] = [result.answers for result in self.state.results]
        if self.state.run:
            pools.append(self.state.run.answers)
        return {g.number: "corrected" if g.replaced else "counts" for pool in pools for g in pool}

    def _answer(self, at: datetime, fact: f.AnswerGiven, status: str) -> AnswerLine:
        question = self._question(fact.check, fact.question)
        names = phrases.labels(fact.check, question) if question else phrases.Labels()
        reading = fact.answer if isinstance(fact.answer, Reading) else None
        said = phrases.reading(reading) if reading else phrases.answer(fact.answer, names)
        return AnswerLine(
            number=fact.number,
            at=at,
            check=self._title(fact.check),
            question=f"{fact.check}.{fact.question}",
            place=catalogue().phrase(names.place(fact.place), self.library),
            said=catalogue().phrase(said, self.library),
            quantity=reading.quantity if reading else "",
            value=reading.spoken_value if reading else None,
            unit=reading.spoken_unit if reading else "",
            words=fact.words,
            ears=fact.ears,
            how=fact.how,
            probability=fact.probability,
            status=status,
            replaces=fact.replaces,
        )

    def _check(self, result: Result) -> CheckLine:
        live = tuple(given.number for given in result.answers if not given.replaced)
        at = next(
            (x.at for x in reversed(self.facts) if isinstance(x.fact, f.CheckJudged) and x.fact.answers == live),
            self.row.opened_at,
        )
        check = self.library.checks.get(result.check)
        return CheckLine(
            at=at,
            id=result.check,
            title=self._title(result.check),
            role=result.role,
            energy=check.energy if check else "",
            verdict=result.judgement.verdict,
            outcome=result.judgement.outcome,
            says=result.judgement.says,
            answers=live,
            working=result.judgement.working,
        )

    def _energy(self) -> Iterable[TimedLine]:
        for item in self.facts:
            if isinstance(item.fact, f.EnergyChanged):
                yield TimedLine(
                    at=item.at, who=item.fact.to, text=catalogue().in_words(item.fact.because, self.library)
                )

    def _cautions(self) -> Iterable[TimedLine]:
        acknowledged = [x.fact.precaution for x in self.facts if isinstance(x.fact, f.PrecautionAcknowledged)]
        for item in self.facts:
            if isinstance(item.fact, f.PrecautionGiven):
                precaution = self.library.precautions.get(item.fact.precaution)
                text = precaution.say if precaution else item.fact.precaution
                trust = "acknowledged" if item.fact.precaution in acknowledged else "spoken"
                yield TimedLine(at=item.at, who=item.fact.precaution, text=text, trust=trust)

    def _calculations(self) -> Iterable[Working]:
        for item in self.facts:
            fact = item.fact
            if isinstance(fact, f.CalculationMade):
                yield Working(formula=fact.formula, numbers=fact.numbers, result=fact.result, source=fact.source)

    def _transcript(self) -> Iterable[TimedLine]:
        for item in self.facts:
            if isinstance(item.fact, f.WordsHeard):
                yield TimedLine(at=item.at, who="technician", text=item.fact.heard.words, trust=item.fact.heard.trust)
            elif isinstance(item.fact, f.Said):
                yield TimedLine(at=item.at, who="assistant", text=item.fact.text, trust=item.fact.about)
