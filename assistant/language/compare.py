"""When two meanings are the same: what was measured, not how it was worded."""

from __future__ import annotations

from assistant.language.meaning import (
    Calculation,
    Correction,
    Indication,
    LedgerSaid,
    Meaning,
    Reading,
    Readings,
    Text,
    Told,
    ToldFact,
)

#: No display shows more digits, and a table of units may get better ones; a count is converted by none.
_SHOWN, _COUNTED = 6, 15


def _reading_key(reading: Reading) -> tuple[object, ...]:
    digits = _COUNTED if reading.quantity == "count" else _SHOWN
    return (
        reading.quantity,
        None if reading.value is None else float(f"{reading.value:.{digits}g}"),
        reading.special,
        None if reading.span is None else tuple(float(f"{end:.{digits}g}") for end in reading.span),
        reading.place,
    )


def _fact_key(fact: ToldFact) -> tuple[object, ...]:
    if isinstance(fact, Indication):
        return meaning_key(fact)
    return ("answer", fact.question, *meaning_key(fact.answer))


def meaning_key(meaning: Meaning | None) -> tuple[object, ...]:
    """Equal for equal meanings: canonical values to six digits, places and ids; words and spoken units left out."""
    if meaning is None:
        return ("nothing",)
    if isinstance(meaning, Readings):
        return ("readings", *(_reading_key(reading) for reading in meaning.items))
    if isinstance(meaning, Correction):
        return ("correction", *meaning_key(meaning.meaning))
    if isinstance(meaning, Calculation):
        return ("calculation", meaning.name, *((name, *_reading_key(value)) for name, value in meaning.values))
    if isinstance(meaning, Told):
        return ("told", *meaning_key(meaning.answer), frozenset(_fact_key(fact) for fact in meaning.facts))
    if isinstance(meaning, Text):
        return ("text", " ".join(meaning.words.lower().split()))
    if isinstance(meaning, LedgerSaid):
        entry = meaning.entry.model_copy(update={"spoken": "", "text": " ".join(meaning.entry.text.lower().split())})
        return ("ledger", meaning.corrects, *entry.model_dump().values())
    return tuple(meaning.model_dump().values())


def same_meaning(one: Meaning | None, other: Meaning | None) -> bool:
    """Whether both say the same about the unit. Two ears agree when this holds."""
    return meaning_key(one) == meaning_key(other)


def is_both(option: Meaning) -> bool:
    """Whether a meaning is two symptoms at once, and nothing else."""
    match option:
        case Told(answer=Indication(), facts=(Indication(),)):
            return True
    return False
