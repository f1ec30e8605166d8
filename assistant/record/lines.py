"""Lines of the record that follow from the facts alone: faults, repairs, cautions, sums, what was said."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from assistant.dialogue import facts as f
from assistant.dialogue.state import VisitState
from assistant.library.loader import Library
from assistant.reasoning.judgement import Working
from assistant.record.answers import title
from assistant.record.course import place_name, zoned
from assistant.record.job_lines import Amendment
from assistant.record.model import AnswerLine, CautionLine, FaultLine, NotChecked, RepairLine, TimedLine
from assistant.record.wording import words
from assistant.visit.reading import Stamped

#: Why a check could not be answered, in words.
_REASONS = {
    "dont-know": "not known",
    "cant-see": "it could not be seen",
    "cant-reach": "it could not be reached",
    "no-meter": "the instrument was missing",
    "not-now": "put off",
    "not-there": "this unit has no such part",
    "": "skipped",
}


def _when(facts: Sequence[Stamped], state: VisitState) -> Iterable[Stamped]:
    """The facts of the course that still stand, with their times: what "go back" undid is left out."""
    left = list(state.course)
    kept: list[Stamped] = []
    for item in reversed(facts):
        if left and item.fact is left[-1]:
            kept.append(item)
            left.pop()
    return reversed(kept)


def indications(state: VisitState, library: Library) -> Iterable[str]:
    """What the unit showed, each once."""
    noted = []
    for fact in state.course:
        if isinstance(fact, f.IndicationNoted):
            symptom = library.symptoms.get(fact.symptom)
            name = symptom.name if symptom else fact.symptom.replace("-", " ")
            noted.append(f"{fact.shown}: {name}" if fact.shown else name)
    return dict.fromkeys(noted)


def faults(facts: Sequence[Stamped], state: VisitState, library: Library) -> Iterable[FaultLine]:
    """Every fault that was named and still stands, the last one last."""
    for item in _when(facts, state):
        if isinstance(item.fact, f.FaultNamed):
            suspect = library.suspects.get(item.fact.suspect)
            yield FaultLine(
                at=zoned(item.at),
                suspect=item.fact.suspect,
                name=suspect.name if suspect else item.fact.suspect.replace("-", " "),
                component=suspect.component if suspect else "",
                probability=item.fact.probability,
                reason=words(item.fact.reason, library),
            )


def repairs(facts: Sequence[Stamped], state: VisitState, library: Library) -> list[RepairLine]:
    """Each repair with the note and the proof that followed it."""
    out: list[RepairLine] = []
    for item in _when(facts, state):
        fact = item.fact
        if isinstance(fact, f.RepairDone):
            suspect = library.suspects.get(fact.suspect)
            out.append(
                RepairLine(
                    at=zoned(item.at),
                    suspect=fact.suspect,
                    name=suspect.name if suspect else fact.suspect.replace("-", " "),
                    component=suspect.component if suspect else "",
                    done=fact.done,
                    words="",
                    proof="not proved",
                )
            )
        elif isinstance(fact, f.Noted) and fact.topic == "repair" and out:
            out[-1] = out[-1].model_copy(update={"words": fact.value})
        elif isinstance(fact, f.ProofSettled) and out:
            out[-1] = out[-1].model_copy(update={"proof": fact.proof})
    return out


def not_checked(facts: Sequence[Stamped], state: VisitState, library: Library) -> Iterable[NotChecked]:
    """What was left out and never made up for."""
    left = {x.fact.check: x for x in facts if isinstance(x.fact, f.CheckSkipped) and x.fact.check in state.skipped}
    for check, item in left.items():
        if isinstance(item.fact, f.CheckSkipped):
            reason = _REASONS.get(item.fact.reason, item.fact.reason.replace("-", " "))
            yield NotChecked(at=zoned(item.at), id=check, title=title(check, library), reason=reason)


def cautions(facts: Sequence[Stamped], library: Library) -> list[CautionLine]:
    """Each caution as it was given, with when it was acknowledged: that one, not another of the same name."""
    out: list[CautionLine] = []
    open_: dict[str, int] = {}
    for item in facts:
        fact = item.fact
        if isinstance(fact, f.PrecautionGiven):
            known = library.precautions.get(fact.precaution)
            text = fact.precaution.replace("-", " ")
            if known:
                lengths = {"say": known.say, "again": known.again or known.say}
                text = lengths.get(fact.length, known.short or known.again or known.say)
            open_[fact.precaution] = len(out)
            out.append(
                CautionLine(
                    at=zoned(item.at),
                    precaution=fact.precaution,
                    place=place_name(fact.place) if fact.place else "",
                    text=text,
                    length=fact.length,
                    waits=fact.waits,
                )
            )
        elif isinstance(fact, f.PrecautionAcknowledged) and fact.precaution in open_:
            at = open_.pop(fact.precaution)
            out[at] = out[at].model_copy(update={"acknowledged_at": zoned(item.at)})
    return out


def calculations(facts: Sequence[Stamped]) -> Iterable[Working]:
    """Sums asked for aloud."""
    for item in facts:
        fact = item.fact
        if isinstance(fact, f.CalculationMade):
            yield Working(formula=fact.formula, numbers=fact.numbers, result=fact.result, source=fact.source)


def transcript(facts: Sequence[Stamped]) -> Iterable[TimedLine]:
    """What was heard and said."""
    for item in facts:
        at = zoned(item.at)
        if isinstance(item.fact, f.WordsHeard):
            heard = item.fact.heard
            yield TimedLine(at=at, who="technician", text=heard.words, trust=heard.trust)
        elif isinstance(item.fact, f.Said):
            yield TimedLine(at=at, who="assistant", text=item.fact.text, trust=item.fact.about)


def amendments(facts: Sequence[Stamped], answers: Sequence[AnswerLine]) -> Iterable[Amendment]:
    """What was corrected after closing, beside what stood before."""
    for item in facts:
        if isinstance(item.fact, f.Amended):
            fact = item.fact
            yield Amendment(
                at=zoned(item.at),
                who=fact.who,
                why=fact.why,
                about=fact.about,
                what=_what(fact.about, answers),
                was=fact.was,
                now=fact.now,
                value=fact.value,
                unit=fact.unit,
            )


def _what(about: str, answers: Sequence[AnswerLine]) -> str:
    """What is amended, as people call it."""
    kind, _, number = about.partition(":")
    line = next((x for x in answers if kind == "answer" and str(x.number) == number), None)
    if line is None:
        return about.replace("-", " ").replace(":", " ")
    return f"no. {line.number}: {line.check}{', ' + line.place if line.place else ''}"
