"""Cutting a text that turns in a circle back to its first rounds."""

from __future__ import annotations

from collections.abc import Sequence

#: Rounds proposed at most: "eight eight eight" is said, a fourth round hardly ever.
_MOST_ROUNDS = 3


def first_rounds(pieces: Sequence[str], ended: bool) -> list[int]:
    """Lengths (in pieces, ascending by trust) to which a text may be cut; the whole length when nothing repeats.

    ``pieces`` are the texts of tokens; ``ended`` says whether the text came to its own end. A text repeats when it is
    a beginning followed by at least one more whole round of the same words, the last round perhaps cut off. Case and
    punctuation do not count.
    """
    words = [_bare(piece) for piece in pieces]
    spoken = [index for index, word in enumerate(words) if word]
    if not spoken:
        return []
    text = [words[index] for index in spoken]
    circle = _circle(text)
    if circle is None:
        return [len(pieces)]
    before, period = circle
    lengths = [
        before + period * rounds for rounds in range(1, _MOST_ROUNDS + 1) if before + period * rounds <= len(text)
    ]
    cuts = [_cut(spoken, length, len(pieces)) for length in lengths]
    return [*cuts, len(pieces)] if ended and len(pieces) not in cuts else cuts


def _bare(piece: str) -> str:
    return "".join(letter for letter in piece.lower() if letter.isalnum())


def _circle(text: Sequence[str]) -> tuple[int, int] | None:
    """Words before the circle and words in a round, of the shortest text up to and with the first round."""
    for length in range(1, len(text)):
        for period in range(1, min(length, len(text) - length) + 1):
            if all(text[at] == text[at - period] for at in range(length, len(text))):
                return length - period, period
    return None


def _cut(spoken: Sequence[int], words: int, whole: int) -> int:
    """Pieces up to the next word, its leading punctuation dropped by whoever reads the text."""
    return spoken[words] if words < len(spoken) else whole
