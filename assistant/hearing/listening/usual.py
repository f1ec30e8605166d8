"""How usual words are as a reading: the grammar allows far more than a meter shows and a technician says.

It has to, for the same words may be a serial number; but where a reading is asked, noise and slurred units become
digits that the grammar lets pass: "thirty four volts" is heard as "thirty four oh", "four point zero five" as "four
four zero five". ``judgement.py`` says what that is worth. All of it common practice, no source.
"""

from __future__ import annotations

from assistant.language import saying
from assistant.language.meaning import Correction, Meaning, Reading, Readings
from assistant.language.number_words import ONES, TEEN_VALUES, TEN_VALUES
from assistant.language.numbers import Spoken

#: A meter shows at most four digits that count; so many single ones in a row are said with a point in between.
_SHOWN = 4
_LARGE = frozenset({"hundred", "thousand"})
_TENS = frozenset({*TEEN_VALUES, *TEN_VALUES})


def oddities(words: str, meaning: Meaning) -> int:
    """How much is odd about the numbers in ``words`` that mean readings; 0 for any other meaning, and for counts."""
    if not _measured(meaning):
        return 0
    return sum(_odd(tuple(said), number) for said, number in saying.runs(words.split()) if number is not None)


def says_units(meaning: Meaning) -> bool:
    """Whether every number that was read has a unit with it; no for any meaning but readings, and for counts."""
    shown = [item for item in _measured(meaning) if item.value is not None]
    return bool(shown) and not any(item.unit_assumed for item in shown)


def _measured(meaning: Meaning) -> tuple[Reading, ...]:
    inner = meaning.meaning if isinstance(meaning, Correction) else meaning
    items = inner.items if isinstance(inner, Readings) else ()
    return tuple(item for item in items if item.quantity != "count")


def _odd(said: tuple[str, ...], number: Spoken) -> int:
    whole, _, fraction = number.literal.lstrip("-").partition(".")
    in_tens = not _TENS.isdisjoint(said)
    return sum(
        (
            len(whole) > 1 and whole.startswith("0"),  # "oh one three"
            len((whole + fraction).strip("0")) > _SHOWN,
            len(fraction) >= _SHOWN,  # "point sixty ten"
            said == ("oh",),  # "oh l", its end not heard
            not fraction and len(whole) >= _SHOWN and not in_tens and _LARGE.isdisjoint(said),  # "four four zero five"
            not fraction and in_tens and ONES.get(said[-1]) == 0,  # "thirty four oh"
        )
    )
