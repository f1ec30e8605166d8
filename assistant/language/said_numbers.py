"""Numbers as they are said among other words: where one ends and the next begins, halves and tenths, two units."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from assistant.language import around, numbers
from assistant.language.meaning import ReadingExpectation
from assistant.language.said_units import unit_at, unit_words
from assistant.language.said_words import SaidWord, text_of

_SIGNS = frozenset({"minus", "negative", "plus"})
#: Words of numbers that the grammar of numbers has not.
_TENTHS = {"tenth": Decimal("0.1"), "tenths": Decimal("0.1"), "hundredths": Decimal("0.01")}
_TENS_OF = {"a": 1, **{word: value for value, word in enumerate(numbers.DIGITS) if value}}
#: What may stand before a unit in place of a number.
_ONE_UNIT = ((("half", "a"), "0.5"), (("half", "an"), "0.5"), (("half",), "0.5"), (("a",), "1"), (("an",), "1"))
#: Things that are counted rather than read: "the two hots".
_FEW = frozenset({"two", "three", "four"})
#: Costs of a cut: for each number, for joining across a pause, for a cut without one, for more digits than a meter
#: shows, for a number that begins with "point" behind another, and for joining two numerals.
_EACH, _JOIN, _SPLIT, _ODD, _POINT_FIRST, _TWO_NUMERALS = 0.1, 2.5, 1.0, 2.0, 0.6, 3.0
#: What speaks for a cut, the same number again; and against it, as many numbers as nobody asked for.
_SAME, _UNWANTED = 0.8, 0.8
#: "Two pounds six ounces": the smaller unit that may follow, and how many of it make the larger.
_SMALLER: dict[str, tuple[str, int]] = {"lb": ("oz", 16), "ft": ("in", 12), "min": ("s", 60), "kg": ("g", 1000)}


@dataclass(frozen=True)
class SaidNumber:
    """``value`` is a decimal literal in ``unit`` ("" when none was said); ``said`` are the words of the number alone.

    ``foreign``: the quantity of the unit where it is not the one that was asked.
    """

    value: str
    said: str
    unit: str
    foreign: str


#: Where the numbers of a sentence begin, with the literal of each and where it ends.
Cuts = dict[int, tuple[str, int]]


def cut_at(row: Sequence[SaidWord], at: int, wanted: int) -> Cuts:
    """The numbers of the run that begins at ``at``; ``wanted`` are likelier than another count."""
    found: Cuts = {}
    for literal, joint, length in _cuts(tuple(_run(row, at)), wanted):
        found[at + joint] = literal, at + length
        at += length
    return found


def number_at(
    row: Sequence[SaidWord], at: int, expected: ReadingExpectation, cuts: Cuts
) -> tuple[SaidNumber, int] | None:
    """The number that begins at ``at``, with its unit, and where it ends."""
    plain = (cuts[at][0], "", cuts[at][1]) if at in cuts else None
    made = _unit_first(row, at, expected) or plain
    if made is None:
        return None
    value, unit, end = made
    said = text_of(row, at, end)
    foreign = ""
    if not unit:
        unit, foreign, end = unit_at(row, end, expected)
    if unit and row[end : end + 3] and [item.text for item in row[end : end + 3]] == ["and", "a", "half"]:
        value, end = str(Decimal(value) + Decimal("0.5")), end + 3
    smaller = _smaller(row, end, unit, expected)
    if smaller is not None:
        value, end = str(Decimal(value) + smaller[0]), smaller[1]
    parsed = numbers.parse(said)
    if parsed is None or parsed.value != Decimal(value):
        said = numbers.say(round(Decimal(value), 6))
    return SaidNumber(value, said, unit, foreign), end


def _unit_first(row: Sequence[SaidWord], at: int, expected: ReadingExpectation) -> tuple[str, str, int] | None:
    """ "a foot", "half an ohm", "a meg and a half", "pound and a half", "a tenth of an ohm"."""
    words = [item.text for item in row[at:]]
    tenths = _tenths(words)
    if tenths is not None:
        return str(tenths[0]), "", at + tenths[1]
    for head, value in _ONE_UNIT:
        if tuple(words[: len(head)]) == head:
            unit, _, end = unit_at(row, at + len(head), expected, own=True)
            if unit:
                return value, unit, end
    unit, _, end = unit_at(row, at, expected, own=True)
    if unit and [item.text for item in row[end : end + 3]] == ["and", "a", "half"]:
        return "1", unit, end
    return None


def _tenths(words: Sequence[str]) -> tuple[Decimal, int] | None:
    """ "three tenths", "a tenth", "tenth"."""
    if words[:1] == ["tenth"]:
        return _TENTHS["tenth"], 1
    if len(words) > 1 and words[1] in _TENTHS and words[0] in _TENS_OF:
        return _TENS_OF[words[0]] * _TENTHS[words[1]], 2
    return None


def _run(row: Sequence[SaidWord], at: int) -> list[SaidWord]:
    """The number words from ``at`` on, with the signs and the "and" between them."""
    if not _begins_number(row, at):
        return []
    run = [row[at]]
    for index in range(at + 1, len(row)):
        item = row[index]
        joins = item.text in ("and", "a") and index + 1 < len(row) and _numeric(row[index + 1].text)
        part = item.text == "and" and index + 1 < len(row) and row[index + 1].text in ("a", "three", "one")
        half = item.text in ("half", "quarter", "quarters", "below") and not item.stop
        if not (_numeric(item.text) or joins or part or half or item.text == "zero"):
            break
        run.append(item)
    while run and run[-1].text in ("and", "a"):
        run.pop()
    return run


def _begins_number(row: Sequence[SaidWord], at: int) -> bool:
    text = row[at].text
    if text in _SIGNS:
        return at + 1 < len(row) and _numeric(row[at + 1].text)
    if text == "a":
        return at + 1 < len(row) and row[at + 1].text in ("hundred", "thousand", "half", "quarter")
    if text == "point":
        return at + 1 < len(row) and _numeric(row[at + 1].text)
    if text in ("one", "ones"):
        return _is_number_one(row, at)
    if text == "oh":  # alone it is a sigh
        return at + 1 < len(row) and not row[at + 1].stop and _numeric(row[at + 1].text)
    return _numeric(text) and not _counts_things(row, at)


def _counts_things(row: Sequence[SaidWord], at: int) -> bool:
    """ "The two hots", "the three terminals": a number of things, and no reading."""
    one_word = at + 1 < len(row) and not _numeric(row[at + 1].text)
    counted = one_word and row[at].text in _FEW and row[at + 1].text not in unit_words()
    return counted and at > 0 and row[at - 1].text == "the"


def _is_number_one(row: Sequence[SaidWord], at: int) -> bool:
    """Whether "one" is the number and not "the thin one"."""
    following = row[at + 1].text if at + 1 < len(row) and not row[at + 1].stop else ""
    if _numeric(following) or following in unit_words():
        return True
    return at == 0 or row[at].stop or row[at].numeral or row[at - 1].text in around.shipped().words["before-one"]


def _numeric(text: str) -> bool:
    return text in numbers.NUMBER_WORDS


#: A number that was cut off: its literal, how many words stand before it ("and"), and how many it took with them.
_Cut = tuple[str, int, int]


@lru_cache(maxsize=4096)
def _cuts(run: tuple[SaidWord, ...], wanted: int) -> tuple[_Cut, ...]:
    """The cheapest way to cut a run into numbers; one or ``wanted`` of them are likelier than another count."""
    best: list[dict[int, tuple[float, tuple[_Cut, ...]]]] = [{} for _ in range(len(run) + 1)]
    best[len(run)] = {0: (0.0, ())}
    for start in range(len(run) - 1, -1, -1):
        skip = 1 if run[start].text == "and" else 0
        for end in range(start + skip + 1, len(run) + 1):
            value = _value(run[start + skip : end])
            if value is None:
                continue
            own = _cost(run, start + skip, end, value)
            for count, (cost, cuts) in best[end].items():
                again = cuts and cuts[0][0] == value.literal
                total = cost + own - (_SAME if again else 0.0)
                known = best[start].get(count + 1)
                if known is None or total < known[0]:
                    best[start][count + 1] = (total, ((value.literal, skip, end - start), *cuts))
    found = [(cost + (0.0 if count in (1, wanted) else _UNWANTED), cuts) for count, (cost, cuts) in best[0].items()]
    return min(found)[1] if found else ()


def _value(run: Sequence[SaidWord]) -> numbers.Spoken | None:
    words = [item.text for item in run]
    if words[0] == "plus":
        words = words[1:]
    if words and words[0] in ("hundred", "thousand"):
        words = ["a", *words]
    return numbers.parse(words)


def _cost(run: Sequence[SaidWord], start: int, end: int, value: numbers.Spoken) -> float:
    cost = _EACH
    for before, item in zip(run[start:end], run[start + 1 : end], strict=False):
        if item.stop:
            cost += _JOIN
        if item.numeral and before.numeral and item.stop:
            cost += _TWO_NUMERALS
    if end < len(run) and not (run[end].stop or run[end].text == "and"):
        cost += _SPLIT
    if start and run[start].text == "point" and not (run[start].stop or run[start - 1].text == "and"):
        cost += _POINT_FIRST
    digits = value.literal.lstrip("-").replace(".", "").strip("0")
    return cost + (_ODD if len(digits) > 4 else 0.0)


def _smaller(row: Sequence[SaidWord], at: int, unit: str, expected: ReadingExpectation) -> tuple[Decimal, int] | None:
    """What "six ounces" adds to two pounds; "twenty five foot six" leaves the inches unsaid."""
    if unit not in _SMALLER or at >= len(row):
        return None
    start = at + 1 if row[at].text == "and" else at
    cuts = cut_at(row, start, 1) if start < len(row) else {}
    if start not in cuts:
        return None
    literal, end = cuts[start]
    symbol, _, after = unit_at(row, end, expected, own=True)
    small, many = _SMALLER[unit]
    unsaid = not symbol and unit == "ft" and end == len(row) and not row[start].stop
    if (symbol == small or unsaid) and 0 <= Decimal(literal) < many:
        return Decimal(literal) / many, after if symbol else end
    return None
