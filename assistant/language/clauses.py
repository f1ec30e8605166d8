"""A sentence in clauses: what stands between pauses and conjunctions, each of which may tell a thing of its own."""

from __future__ import annotations

import re

#: More clauses than this are no report but a story.
MOST = 5
#: A clause of fewer words tells nothing of its own: "yep", "so".
_BARE = frozenset(
    {
        "yep",
        "yeah",
        "yes",
        "yup",
        "nope",
        "no",
        "nah",
        "okay",
        "ok",
        "well",
        "so",
        "and",
        "but",
        "uh",
        "um",
        "oh",
        "hey",
    }
)
_WORDS = r"(?:and|but|plus|also|while|though|however|then)"
_JOINT = re.compile(
    rf"\s*(?:[,;.!?]+|\s-+\s|—)\s*(?:{_WORDS}\s+)*|\s+(?:{_WORDS}\s+)+|\s+(?=ever since\b)", re.IGNORECASE
)
#: What stands for a space, a point and a comma that belong to a number or a pair while the sentence is cut.
_KEPT = str.maketrans({"\0": " ", "\x02": ".", "\x03": ","})


def clauses(words: str) -> tuple[str, ...]:
    """The clauses of ``words`` in order, without the words that join them; numbers stay whole ("two hundred and five").

    One clause when there is nothing to cut, or when there would be too many.
    """
    parts = [part.translate(_KEPT).strip() for part in _JOINT.split(_kept_together(words))]
    found = [part for part in parts if part]
    return tuple(found) if 1 < len(found) <= MOST else (words,)


def tells_little(clause: str) -> bool:
    """Whether the clause is a bare "yep" or "so"."""
    return all(word in _BARE for word in clause.lower().split())


_NUMBER = (
    r"(?:a|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\w+teen|twenty|thirty|forty|fifty|sixty|seventy"
    r"|eighty|ninety|hundred|thousand|half|point|\d+)"
)
_IN_NUMBER = re.compile(rf"\b({_NUMBER})\s+and\s+(?={_NUMBER}\b)", re.IGNORECASE)
_PAIR = re.compile(r"\b(\w)\s+and\s+(\w)\b", re.IGNORECASE)


def _kept_together(words: str) -> str:
    """``words`` with all that is not to be cut marked: "two hundred and five", "V and W", "10,200", "2.5"."""
    kept = _IN_NUMBER.sub("\\1\0and\0", words)
    kept = _PAIR.sub("\\1\0and\0\\2", kept)
    kept = re.sub(r"(?<=\d)\.(?=\d)", "\x02", kept)
    return re.sub(r"(?<=\d),(?=\d{3}\b)", "\x03", kept)
