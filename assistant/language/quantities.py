"""One item of a parsed answer, as the readings that it may be: number, unit, unsaid point, unsaid unit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from assistant.language import numbers, units
from assistant.language.meaning import Quantity, Reading, ReadingExpectation
from assistant.language.number_words import ONES, TEEN_VALUES, say_pair
from assistant.language.parsing import Span

COST_IMPLAUSIBLE = 4.0
COST_HIDDEN_POINT = 0.8
COST_OTHER_UNIT = 1.2
#: How a doubt about a unit begins.
UNIT_UNSAID = "the unit was not said"
#: Figures from which a meter takes the next larger unit. Common practice, no source.
_CHANGES_RANGE = 1000

#: Where "two fifty" is often said for 2.50. Elsewhere only a whole value out of range makes one think of it.
_POINT_OFTEN_UNSAID: frozenset[Quantity] = frozenset({"current", "resistance", "capacitance", "mass"})


@dataclass(frozen=True)
class Candidate:
    """A reading that the words may mean, how unlikely it is, and what is doubtful about it."""

    reading: Reading
    cost: float = 0.0
    doubt: str = ""


def plausible(value: float, expected: ReadingExpectation) -> bool:
    """Whether a canonical value lies within what the question allows."""
    low, high = expected.plausible
    return low <= value <= high


def candidates(item: Span, expected: ReadingExpectation) -> list[Candidate]:
    """Every reading that the number, unit and special words of ``item`` may mean, place left open."""
    special = item.all("special")
    if special:
        return _special(special[0], item, expected)
    return _numbers(item, expected)


def _symbol(item: Span) -> str | None:
    """The unit that was said, or None; bare "degrees" count as not said."""
    found = item.all("unit")
    return found[0].name if found and found[0].name != "degrees" else None


def _spoken_symbol(item: Span, expected: ReadingExpectation) -> str:
    return _symbol(item) or expected.unit


def _special(special: Span, item: Span, expected: ReadingExpectation) -> list[Candidate]:
    span: tuple[float, float] | None = None
    doubt = ""
    if special.name == "unstable" and special.all("low"):
        symbol = _spoken_symbol(special, expected)
        ends = [numbers.parse(special.all(end)[0].words) for end in ("low", "high")]
        if ends[0] is None or ends[1] is None:
            return []
        low, high = sorted(units.to_canonical(float(end.value), symbol, expected.quantity) for end in ends if end)
        span = (low, high)
        if not (plausible(low, expected) and plausible(high, expected)):
            doubt = "that is outside what can be read here"
    if special.name == "open_line" and not expected.open_line:
        doubt = "no open line was expected here"
    name = special.name
    reading = Reading(
        quantity=expected.quantity,
        value=None,
        spoken_value=None,
        spoken_unit=_spoken_symbol(special, expected),
        unit_assumed=_symbol(special) is None,
        special="open_line" if name == "open_line" else "unstable" if name == "unstable" else "no_reading",
        span=span,
        words=" ".join(item.words),
    )
    return [Candidate(reading, doubt=doubt)]


def _numbers(item: Span, expected: ReadingExpectation) -> list[Candidate]:
    said = item.all("number")
    first = numbers.parse(said[0].words) if said else None
    if first is None:
        return []
    if item.all("tail"):
        return _with_point_unit(item, first, expected)
    if len(said) == 2:
        return _compound(item, expected)
    symbol = _symbol(item)
    if symbol is None and expected.quantity == "count":
        return [_candidate(item, first.value, expected.unit, expected, assumed=False)]
    misheard = _misheard(said[0].words, expected)
    whole = _candidate(item, first.value, symbol or expected.unit, expected, assumed=symbol is None, doubt=misheard)
    found = [whole]
    if first.hidden is not None:
        found += _unsaid_point(item, first.hidden, whole, symbol, expected)
    if symbol is None:
        found += _unsaid_unit(item, first.value, whole, expected)
    return found


def _misheard(words: Sequence[str], expected: ReadingExpectation) -> str:
    """A doubt about number words that nobody says so, and that sound like others; else empty."""
    if expected.open_line and len(words) > 1 and set(words) == {"oh"}:
        return 'it may have been "O L"'
    after = words[words.index("point") + 1 :] if "point" in words else ()
    for teen, digit in pairwise(after):
        if TEEN_VALUES.get(teen, 0) >= 13 and 0 < ONES.get(digit, 0) < 10:
            return f'it may have been "{say_pair(10 * (TEEN_VALUES[teen] - 10) + ONES[digit])}"'
    return ""


def _candidate(
    item: Span, value: Decimal, symbol: str, expected: ReadingExpectation, *, assumed: bool, doubt: str = ""
) -> Candidate:
    canonical = units.to_canonical(float(value), symbol, expected.quantity)
    inside = plausible(canonical, expected)
    reading = Reading(
        quantity=expected.quantity,
        value=canonical,
        spoken_value=float(value),
        spoken_unit=symbol,
        unit_assumed=assumed,
        words=" ".join(item.words),
    )
    if not inside:
        return Candidate(reading, COST_IMPLAUSIBLE, doubt or "that is outside what can be read here")
    return Candidate(reading, 0.0, doubt)


def _with_point_unit(item: Span, first: numbers.Spoken, expected: ReadingExpectation) -> list[Candidate]:
    """ "four k seven" is 4.7 kilohms."""
    tail = numbers.parse(item.all("tail")[0].words)
    symbol = "kohm" if item.all("point")[0].words[-1] == "k" else "Mohm"
    if tail is None:
        return []
    return [_candidate(item, Decimal(f"{first.literal}.{tail.literal}"), symbol, expected, assumed=False)]


def _compound(item: Span, expected: ReadingExpectation) -> list[Candidate]:
    """ "two pounds six ounces", kept in the first unit. The second part must stay below one of the first."""
    parts = [numbers.parse(said.words) for said in item.all("number")]
    symbols = [span.name for span in item.all("unit")]
    if parts[0] is None or parts[1] is None or len(symbols) != 2:
        return []
    large, small = (units.unit(symbol, expected.quantity).factor for symbol in symbols)
    if not 0 <= float(parts[1].value) * small < large * (1 + 1e-9) or float(parts[0].value) % 1:
        return []
    value = parts[0].value + parts[1].value * Decimal(repr(small / large))
    return [_candidate(item, round(value, 9), symbols[0], expected, assumed=False)]


def _unsaid_point(
    item: Span, hidden: Decimal, whole: Candidate, symbol: str | None, expected: ReadingExpectation
) -> list[Candidate]:
    """ "two fifty" as 2.50, where that can be read here.

    In quantities where a point is often left unsaid, both values inside the range make a doubt, and a whole
    value outside it settles the matter. Elsewhere 2.50 is only thought of when 250 cannot be, and asked.
    """
    point = _candidate(item, hidden, symbol or expected.unit, expected, assumed=symbol is None)
    if point.cost:
        return []
    often = expected.quantity in _POINT_OFTEN_UNSAID
    if expected.quantity == "temperature":  # "one sixty five" is never 1.65 degrees
        return []
    if whole.cost:
        doubt = "" if often else f"the point of {hidden} was not said"
        return [Candidate(point.reading, COST_HIDDEN_POINT, doubt)]
    return [Candidate(point.reading, COST_HIDDEN_POINT)] if often else []


def _unsaid_unit(item: Span, value: Decimal, whole: Candidate, expected: ReadingExpectation) -> list[Candidate]:
    """Other units that the bare number may have been in.

    A meter that changes range by itself may show a neighbouring unit: a smaller one is thought of where it fits, a
    larger one where the asked unit cannot be. The other
    system of measurement is a setting that stays, so it is only thought of when the asked unit cannot be.
    """
    asked = units.unit(expected.unit, expected.quantity).factor
    # Where the range begins at nothing, every smaller unit would fit: nobody is asked about millivolts then. But a
    # meter changes range at a thousand, so "sixteen seventy two" where kilohms are asked is more likely ohms. A larger
    # unit is said ("one point two k"): without it the one that the question names is meant, where it can be.
    smaller = expected.plausible[0] > 0 or abs(value) >= _CHANGES_RANGE
    near = [
        symbol
        for symbol in units.neighbours(expected.unit, expected.quantity)
        if (whole.cost if units.unit(symbol, expected.quantity).factor > asked else smaller)
    ]
    others = units.other_system(expected.unit, expected.quantity) if whole.cost else ()
    found: list[Candidate] = []
    for symbol in (*near, *others):
        one = _candidate(item, value, symbol, expected, assumed=True)
        if not one.cost and value:
            doubt = f"{UNIT_UNSAID}; it may be {units.say(symbol, expected.quantity)}"
            found.append(Candidate(one.reading, COST_OTHER_UNIT, doubt))
    return found
