"""Spoken numbers both ways: what a string of number words is worth, and every way to say a value.

Exact: a word that is not a number word makes the whole string no number; nothing is guessed or corrected.
The strings accepted are those of ``grammars/numbers.jsgf`` (a test holds the two together). Values are kept
as decimal literals, so that "four point two oh" stays 4.20 and "oh seven" stays 07.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from assistant.language.number_words import (
    DIGITS,
    NUMBER_WORDS,
    ONES,
    PARTS,
    SCALES,
    TEEN_VALUES,
    TEN_VALUES,
    say_digits,
    say_pair,
)

__all__ = [
    "DIGITS",
    "NUMBER_WORDS",
    "Spoken",
    "digits",
    "forms",
    "groupings",
    "only_number_words",
    "parse",
    "say",
    "say_digits",
    "say_pair",
]


@dataclass(frozen=True)
class Spoken:
    """What number words are worth.

    ``value`` is exact; ``literal`` the same as written digits, zeros kept ("4.20", "079"). ``hidden`` is the
    value when the words may leave a point unsaid ("two fifty" for 2.50), else None.
    """

    value: Decimal
    literal: str
    hidden: Decimal | None = None


def _pieces(words: Sequence[str]) -> list[str] | None:
    """The words as groups of digits: "one twenty five" gives ["1", "25"]. None when one is no number word."""
    found: list[str] = []
    open_ten = False  # the last piece is a bare ten that a digit may complete
    for word in words:
        if open_ten and 0 < ONES.get(word, 0) < 10:
            found[-1] = str(int(found[-1]) + ONES[word])
            open_ten = False
        elif word in ONES:
            found.append(str(ONES[word]))
            open_ten = False
        elif word in TEEN_VALUES:
            found.append(str(TEEN_VALUES[word]))
            open_ten = False
        elif word in TEN_VALUES:
            found.append(str(TEN_VALUES[word]))
            open_ten = True
        else:
            return None
    return found or None


def _single(words: Sequence[str]) -> int | None:
    """One piece worth 1 to 99, or "a" for one."""
    if list(words) == ["a"]:
        return 1
    pieces = _pieces(words)
    return int(pieces[0]) if pieces and len(pieces) == 1 and int(pieces[0]) > 0 else None


def _split(words: Sequence[str], word: str) -> tuple[Sequence[str], Sequence[str]]:
    at = list(words).index(word)
    rest = words[at + 1 :]
    return words[:at], rest[1:] if len(rest) > 1 and rest[0] == "and" else rest


def _hundreds(words: Sequence[str]) -> int | None:
    left, right = _split(words, "hundred")
    high = _single(left)
    low = 0 if not right else _single(right) if right[0] != "a" else None
    return None if high is None or low is None else high * 100 + low


def _after_thousand(words: Sequence[str]) -> int | None:
    """What follows "thousand": nothing, 1 to 99, "four hundred fifty", "four fifty", "four oh five"."""
    if not words:
        return 0
    if "hundred" in words:
        value = _hundreds(words) if words[0] != "a" else None
        return value if value is not None and value < 1000 else None
    pieces = _pieces(words)
    if pieces is None or pieces[0] == "0":
        return None
    sizes = [len(piece) for piece in pieces]
    if sizes in ([1], [2], [1, 2]) or (sizes == [1, 1, 1] and pieces[1] == "0" and pieces[2] != "0"):
        return int("".join(pieces))
    return None


def _whole(words: Sequence[str]) -> str | None:
    """The digits of a whole number, zeros kept."""
    if "thousand" in words:
        left, right = _split(words, "thousand")
        if "hundred" in left:
            high = _hundreds(left)
            high = high if high is not None and high < 1000 else None
        else:
            high = _single(left)
        low = _after_thousand(right)
        return None if high is None or low is None else str(high * 1000 + low)
    if "hundred" in words:
        value = _hundreds(words)
        return None if value is None else str(value)
    pieces = _pieces(words)
    return "".join(pieces) if pieces else None


def _hidden(words: Sequence[str]) -> Decimal | None:
    """ "two fifty" may be 2.50 and "one oh five" 1.05; nothing else hides a point."""
    pieces = _pieces(words)
    if not pieces or pieces[0] == "0":
        return None
    two = len(pieces) == 2 and len(pieces[1]) == 2
    three = len(pieces) == 3 and pieces[1] == "0" and len(pieces[2]) == 1 and pieces[2] != "0"
    return Decimal(f"{pieces[0]}.{''.join(pieces[1:])}") if two or three else None


def _scaled(words: Sequence[str]) -> tuple[Sequence[str], int]:
    """A final "thousand" or "million" after a decimal, or "million" after a small number."""
    if words and words[-1] in SCALES and ("point" in words or words[-1] == "million"):
        return words[:-1], SCALES[words[-1]]
    return words, 1


def _magnitude(words: Sequence[str]) -> Spoken | None:
    text = " ".join(words)
    if text in ("half", "half a") or text in PARTS:
        literal = PARTS.get(text, "0.5")
        return Spoken(Decimal(literal), literal)
    before, joint, part = text.rpartition(" and ")
    if joint and (part in PARTS or part == "half"):
        whole, rest = _whole(before.split()), PARTS.get(part, "0.5")
        return None if whole is None else Spoken(Decimal(whole) + Decimal(rest), f"{whole}{rest[1:]}")
    plain, scale = _scaled(words)
    if "point" in plain:
        at = list(plain).index("point")
        whole = _whole(plain[:at]) if at else "0"
        after = _pieces(plain[at + 1 :])
        if whole is None or after is None:
            return None
        literal = f"{whole}.{''.join(after)}"
        value = Decimal(literal) * scale
        return Spoken(value, literal if scale == 1 else f"{value.normalize():f}")
    if scale > 1:
        single = _single(plain) if list(plain) != ["a"] else None
        return None if single is None else Spoken(Decimal(single * scale), str(single * scale))
    whole = _whole(plain)
    return None if whole is None else Spoken(Decimal(whole), whole, _hidden(plain))


def parse(words: str | Sequence[str]) -> Spoken | None:
    """What ``words`` (lower case, grammar words only) are worth, or None when they are not one number."""
    rest = words.split() if isinstance(words, str) else list(words)
    negative = bool(rest) and rest[0] in ("minus", "negative")
    if negative:
        rest = rest[1:]
    elif rest[-2:] == ["below", "zero"]:
        negative, rest = True, rest[:-2]
    elif rest[-1:] == ["below"]:
        negative, rest = True, rest[:-1]
    found = _magnitude(rest) if rest else None
    if found is None or not negative:
        return found
    return Spoken(-found.value, f"-{found.literal}", None if found.hidden is None else -found.hidden)


def digits(words: str) -> str | None:
    """The digit string that was said, zeros kept ("oh seven" gives "07"); None when it is no plain whole number."""
    found = parse(words)
    return found.literal if found is not None and found.literal.isdigit() else None


def groupings(literal: str) -> tuple[str, ...]:
    """Digits said in ones and twos: "3116" gives "thirty one sixteen", "three eleven six", ...; every way, twos first.

    The ways grow fast (a string of n digits has up to Fibonacci(n) of them): for strings of at most seven.
    """
    if not literal:
        return ("",)
    found: list[str] = []
    if len(literal) > 1 and literal[0] != "0":
        found += [f"{say_pair(int(literal[:2]))} {rest}".strip() for rest in groupings(literal[2:])]
    found += [f"{say_digits(literal[0], 'oh')} {rest}".strip() for rest in groupings(literal[1:])]
    # "twenty" before a digit would be heard as one pair, so such a way says another number.
    return tuple(way for way in dict.fromkeys(found) if "".join(_pieces(way.split()) or []) == literal)


def _cardinal(value: int, joint: str = " ") -> str:
    """ "one hundred twenty" (or with " and " as ``joint``); 0 to 999,999."""
    if value == 0:
        return "zero"
    thousands, rest = divmod(value, 1000)
    hundreds, low = divmod(rest, 100)
    said = f"{_cardinal(thousands, joint)} thousand" if thousands else ""
    if hundreds:
        said += f" {DIGITS[hundreds]} hundred"
    if low:
        said += f"{joint if said else ''}{say_pair(low)}" if joint != " " else f" {say_pair(low)}"
    return said.strip()


def _pairwise(value: int) -> list[str]:
    """ "two forty", "one oh five", "twelve fifty", "twelve hundred", "ten oh five"."""
    high, low = divmod(value, 100)
    if not 1 <= high <= 99:
        return []
    if low >= 10:
        found = [f"{say_pair(high)} {say_pair(low)}"]
    elif low:
        found = [f"{say_pair(high)} oh {DIGITS[low]}"]
    else:
        found = []
    if high >= 10 and high % 10:
        found.append(f"{say_pair(high)} hundred {say_pair(low) if low else ''}".strip())
    return found


def _whole_forms(value: int) -> list[str]:
    found = [_cardinal(value)]
    if value >= 100 and value % 100:
        found.append(_cardinal(value, " and "))
    found += _pairwise(value)
    if value >= 10:
        found.append(say_digits(str(value)))
        if "0" in str(value):
            found.append(say_digits(str(value), "oh"))
    thousands, rest = divmod(value, 1000)
    if 1 <= thousands <= 99 and rest >= 100 and value >= 10_000:
        found += [f"{say_pair(thousands)} thousand {short}" for short in _pairwise(rest) if "hundred" not in short]
    return found


def _fraction_forms(digits_after: str) -> list[str]:
    found = [say_digits(digits_after)]
    if "0" in digits_after:
        found.append(say_digits(digits_after, "oh"))
    if len(digits_after) == 2 and digits_after[0] != "0":
        found.append(say_pair(int(digits_after)))
    return found


def _part_forms(whole: int, after: str) -> list[str]:
    parts = {"5": ("a half",), "25": ("a quarter",), "75": ("three quarters",)}.get(after, ())
    if whole:
        return [f"{_cardinal(whole)} and {part}" for part in parts]
    return [*parts, *(["half"] if after == "5" else [])]


def forms(value: Decimal | float | str) -> tuple[str, ...]:
    """Every way we know to say ``value`` (0 to 999,999, any sign), the commonest first.

    A literal keeps its zeros: "4.20" is said "four point two zero". Raises ValueError beyond the range.
    """
    number = value if isinstance(value, Decimal) else Decimal(str(value))
    literal = f"{abs(number):f}"
    whole_text, _, after = literal.partition(".")
    whole = int(whole_text)
    if whole > 999_999:
        raise ValueError(f"{literal} is above 999,999, the largest number that is spoken here.")
    if after:
        fractions = _fraction_forms(after)
        heads = _whole_forms(whole) if whole else ["zero", "", "oh"]
        found = [f"{heads[0]} point {fractions[0]}"]
        found += [f"{head} point {tail}".strip() for head in heads for tail in fractions]
        found += _part_forms(whole, after)
    else:
        found = _whole_forms(whole)
    if number < 0:
        found = [f"{sign} {form}" for form in found for sign in ("minus", "negative")]
    return tuple(dict.fromkeys(found))


def say(value: Decimal | float | str) -> str:
    """The plainest way to say ``value``: "four point two", "two hundred forty"."""
    return forms(value)[0]


def only_number_words(words: Iterable[str]) -> tuple[str, ...]:
    """The number words among ``words``, zeros alike: what must be equal before two phrases may be called near."""
    return tuple("zero" if word == "oh" else word for word in words if word in NUMBER_WORDS)
