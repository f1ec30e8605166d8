"""A correction after the visit was closed: a new fact with who and why; what stood before stays and is shown."""

from __future__ import annotations

from assistant.dialogue.facts import Amended, VisitClosed
from assistant.errors import LaddersideError
from assistant.language.units import to_canonical
from assistant.library.loader import Library
from assistant.quantities.numbers import NumberError, split
from assistant.quantities.spelling import UnitError, unit_of
from assistant.record.attach import append
from assistant.record.build import build
from assistant.record.model import AnswerLine, Record
from assistant.record.wording import quantity
from assistant.visit.journal import Journal

#: What may be amended besides a numbered answer.
TOPICS = ("site", "technician", "repair", "customer")


class AmendError(LaddersideError):
    """The visit cannot be amended so."""


def amend(journal: Journal, library: Library, visit: str, about: str, now: str, who: str, why: str) -> Amended:
    """Add the correction to the journal. ``about``: the number of an answer, or one of ``TOPICS``.

    Raises AmendError, VisitTaken and JournalError.
    """
    facts = journal.facts(visit)
    if not any(isinstance(item.fact, VisitClosed) for item in facts):
        raise AmendError(f'Visit {visit} is still open; go on with it and say "correction".')
    if not who.strip() or not why.strip():
        raise AmendError("Name who amends it and why, with --who and --why.")
    fact = _fact(build(journal.row(visit), facts, library), about, now, who, why)
    append(journal, visit, fact)
    return fact


def _fact(record: Record, about: str, now: str, who: str, why: str) -> Amended:
    if about.isdigit():
        line = next((line for line in record.answers if line.number == int(about)), None)
        if line is None:
            raise AmendError(f"Visit {record.visit} has no answer no. {about}; its record numbers them.")
        value, unit, text = _reading(line, now)
        return Amended(
            about=f"answer:{about}",
            was=_latest(record, f"answer:{about}") or line.said,
            now=text,
            who=who,
            why=why,
            value=value,
            unit=unit,
        )
    was = {
        "site": record.site,
        "technician": record.technician,
        "customer": record.customer_note,
        "repair": record.repairs[-1].words if record.repairs else "",
    }
    if about not in was:
        raise AmendError(f"{about} cannot be amended; name the number of an answer, or {', '.join(TOPICS)}.")
    return Amended(about=about, was=_latest(record, about) or was[about], now=now, who=who, why=why)


def _latest(record: Record, about: str) -> str:
    """What an earlier amendment made of it."""
    return next((change.now for change in reversed(record.amendments) if change.about == about), "")


def _reading(line: AnswerLine, now: str) -> tuple[float | None, str, str]:
    """Value, unit and text of a number with its unit; words as they are where the answer was none."""
    if not line.quantity:
        return None, "", now
    try:
        value, written = split(now)
        unit = unit_of(line.quantity, written).symbol if written else line.unit
        to_canonical(value, unit, line.quantity)  # type: ignore[arg-type]
    except (NumberError, UnitError) as error:
        raise AmendError(f"No. {line.number} is {line.said}. {error}") from None
    return value, unit, quantity(value, unit)
