"""Entries of the ledger in words: masses, times and cylinders by the grammar, notes and parts with free words."""

from __future__ import annotations

import re
from functools import lru_cache

from assistant.job.ledger import Entry, What
from assistant.language import numbers
from assistant.language.meaning import Expectation, LedgerSaid, Reading, ReadingExpectation
from assistant.language.parsing import Span
from assistant.language.quantities import candidates
from assistant.language.sources import shipped, strings
from assistant.language.tagged import tagged_alternatives
from assistant.language.units import UnitError
from assistant.language.written import as_words
from assistant.quantities.table import sign

#: What refrigerant can be weighed in one breath, kg, and how long one drives, s.
_MASS = ReadingExpectation(quantity="mass", unit="kg", plausible=(0.0, 100.0))
_TIME = ReadingExpectation(quantity="duration", unit="min", plausible=(0.0, 86_400.0))
#: Where free words are asked anyway, they are not taken for a note.
_ASKS_FOR_A_NOTE = ("visit.customer-note", "visit.repair-note")
_CORRECTS = re.compile(r"^(correction|make that|change that to|i meant)\b[\s,:;.-]*", re.IGNORECASE)
_SOURCE = re.compile(r"^(?:(?:is |it's )?from |out of )(?:the |my )?(?P<from>.+)$|^(?P<order>on order|ordered)$", re.I)
_RUN_ON = re.compile(
    r"^(?P<name>.+?)[\s,]+(?P<count>[\w-]+)[\s,]+(?:from|out of) (?:the |my )?(?P<from>[\w -]+)$",
    re.I,
)

_FROM = re.compile(
    r"^(?P<name>.+?)\s+(?:(?:from|out of) (?:the |my )?(?P<from>[\w -]+)|(?:is )?on order|is ordered)$", re.I
)
_COUNT_FIRST = re.compile(
    r"^(?P<count>[\w-]+)\s+(?P<rest>(?!(?:way|pole|phase|wire|inch|stage|speed|port|pin|row|ton|volt|amp|hundred)\b).+)$",
    re.I,
)


def closed_entry(span: Span) -> tuple[Entry, str] | None:
    """What a span of the grammar notes, with its doubt; None when its number cannot be."""
    if span.name != "amount":
        what: What = span.name  # type: ignore[assignment]
        return Entry(what=what), ""
    moved, [amount] = span.all("moved")[0].name, span.all("amount")
    found = _reading(amount, _TIME if moved == "travel" else _MASS)
    if found is None or found[0].value is None:
        return None
    reading, doubt = found
    if moved == "travel":
        return Entry(what="travel", minutes=(reading.value or 0.0) / 60), doubt
    cylinder = " ".join(numbers.digits(" ".join(one.words)) or " ".join(one.words) for one in span.all("cylinder"))
    return Entry(what=moved, kg=reading.value, spoken=_spoken(reading, amount), cylinder=cylinder), doubt  # type: ignore[arg-type]


def _reading(span: Span, expected: ReadingExpectation) -> tuple[Reading, str] | None:
    try:
        best = candidates(span, expected)
    except UnitError:
        return None
    return (best[0].reading, best[0].doubt) if best else None


def _spoken(reading: Reading, span: Span) -> str:
    """As it was said, also in two units: "2 lb 10 oz"."""
    parts = zip(span.all("number"), span.all("unit"), strict=False)
    said = [(numbers.parse(number.words), unit.name) for number, unit in parts]
    if len(said) > 1 and all(number for number, _ in said):
        return " ".join(f"{number.literal} {sign(unit)}" for number, unit in said if number)
    return f"{reading.spoken_value:g} {sign(reading.spoken_unit)}" if reading.spoken_value is not None else ""


@lru_cache(maxsize=1)
def _heads() -> tuple[tuple[re.Pattern[str], What], ...]:
    """How notes and parts begin, the longest first."""
    find = shipped().lookup({})
    heads = [
        (text, tag.partition(" ")[2]) for tag, item in tagged_alternatives("ledger.free")
        for text in strings(item, find, "ledger")
    ]  # fmt: skip
    heads.sort(key=lambda each: -len(each[0]))
    return tuple(
        (re.compile(rf"^{re.escape(text)}(?:\s*[:,.;-]\s*|\s+)(?P<rest>\S.*)$", re.I | re.S), what)  # type: ignore[misc]
        for text, what in heads
    )


def free_entry(words: str, expectation: Expectation) -> LedgerSaid | None:
    """A note or a part in free words, or None when the sentence does not begin as one."""
    said = words.strip()
    if any(as_words(said) == as_words(phrase) for choice in expectation.choices for phrase in choice.phrases):
        return None  # "note it" is what was asked for
    corrects = _CORRECTS.match(said)
    if corrects:
        said = said[corrects.end() :]
    for pattern, what in _heads():
        found = pattern.match(said)
        if found and not (what == "note" and expectation.question in _ASKS_FOR_A_NOTE):
            rest = found["rest"].strip(" .")
            entry = _part(rest) if what == "part" else Entry(what=what, text=rest)
            return LedgerSaid(entry=entry, corrects=corrects is not None) if rest else None
    return None


def as_note(words: str) -> str:
    """Free words that were asked for, without the word with which a note begins."""
    head = next(
        (found for pattern, what in _heads() if what == "note" and (found := pattern.match(words.strip()))), None
    )
    return head["rest"] if head else words


def _part(words: str) -> Entry:
    """ "fan motor, one, from the van", "two fan motors from the van": name, number, where it came from.

    A number before the name counts the parts, but in "four way valve".
    """
    if (first := _COUNT_FIRST.match(words)) and (number := numbers.parse(as_words(first["count"]))) is not None:
        entry = _part(first["rest"])
        return entry.model_copy(update={"count": float(number.value)}) if entry.count == 1 else entry
    run_on = _RUN_ON.match(words) if "," not in words else None
    if run_on and (number := numbers.parse(as_words(run_on["count"]))) is not None:
        return Entry(what="part", text=run_on["name"], count=float(number.value), source=run_on["from"])
    if "," not in words and (origin := _FROM.match(words)):
        return Entry(what="part", text=origin["name"], source=origin["from"] or "on order")
    name, *rest = (piece.strip() for piece in words.split(","))
    count, source, more = 1.0, "", []
    for piece in rest:
        number, origin = numbers.parse(as_words(piece)), _SOURCE.match(piece)
        if number is not None:
            count = float(number.value)
        elif origin:
            source = origin["from"] or "on order"
        else:
            more.append(piece)
    return Entry(what="part", text=", ".join([name, *more]), count=count, source=source)
