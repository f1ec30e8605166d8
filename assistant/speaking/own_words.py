"""The words that were said last, to tell their echo in the microphone from an answer."""

from __future__ import annotations

import re
from collections import deque

from rapidfuzz.fuzz import partial_ratio

from assistant.speaking.text import spoken

#: Replies whose words may still be on their way through the microphone.
_REMEMBERED = 8
#: How alike (0 to 100) heard words must be to a part of a reply to be taken for it.
_ALIKE = 85


class OwnWords:
    """Remembers what is said; ``hold`` tells whether heard words are a part of it."""

    def __init__(self) -> None:
        self._said: deque[str] = deque(maxlen=_REMEMBERED)

    def remember(self, text: str) -> None:
        """``text`` is about to be said."""
        self._said.append(_words(text))

    def hold(self, heard: str) -> bool:
        """Whether these are words of a late reply, near enough: an echo is heard badly ("the site is this")."""
        words = _words(heard)
        return bool(words) and any(
            len(words) <= len(said) and partial_ratio(words, said) >= _ALIKE for said in self._said
        )


def _words(text: str) -> str:
    """As they are spoken, a space on either side of each; empty when there are none."""
    found = re.findall(r"[a-z0-9']+", spoken(text).lower())
    return f" {' '.join(found)} " if found else ""
