"""Thirteen or thirty: the two that even people mistake for each other, so that a reading with one is weighed twice."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.language.number_words import ONES, TEENS, TENS

_OTHER = dict(zip(TEENS[3:], TENS[3:], strict=True))
_OTHER |= {ten: teen for teen, ten in _OTHER.items()}
#: What stands between the two ends of a place.
_BETWEEN = ("to", "and")


def mistakable(words: str) -> Iterator[str]:
    """``words`` with one teen said as its ten or one ten as its teen; "thirty one" can be no thirteen.

    Unless the one begins a place: "thirty one to two".
    """
    said = words.split()
    for at, word in enumerate(said):
        following, behind = [*said[at + 1 : at + 3], "", ""][:2]
        joined = 0 < ONES.get(following, 0) < 10 and behind not in _BETWEEN
        if word in _OTHER and not joined:
            yield " ".join([*said[:at], _OTHER[word], *said[at + 1 :]])
