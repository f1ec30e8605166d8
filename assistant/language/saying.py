"""All the ways in which the same words can be said aloud, as one small graph.

Whisper writes "123" for "one two three", "one twenty three" and "one hundred twenty three" alike, so a proposal is
judged by the phoneme ear over every way to say its numbers.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from assistant.language import numbers
from assistant.language.state_grammar import WordGraph

#: Longest number read as digits and pairs; nobody says more in one go.
_MOST_DIGITS = 14
_ZEROS = ("zero", "oh")
#: Words of the forms that digits and pairs do not cover.
_JOINTS = frozenset({"hundred", "thousand", "and", "a", "half", "quarter", "quarters", "negative"})


class _Builder:
    """Collects arcs; states are numbered as they are asked for, 0 being the start."""

    def __init__(self) -> None:
        self.arcs: dict[tuple[int, str, int], None] = {}
        self.states = 1

    def state(self) -> int:
        self.states += 1
        return self.states - 1

    def chain(self, source: int, words: Sequence[str], target: int) -> None:
        for word in words[:-1]:
            following = self.state()
            self.arcs[source, word, following] = None
            source = following
        self.arcs[source, words[-1], target] = None


def ways(strings: Sequence[str]) -> WordGraph:
    """One graph from one start for all ``strings``, which must not be empty; string ``i`` ends in state ``i + 1``."""
    build = _Builder()
    ends = [build.state() for _ in strings]
    for string, end in zip(strings, ends, strict=True):
        parts = list(runs(string.split()))
        source = 0
        for index, (words, value) in enumerate(parts):
            target = end if index == len(parts) - 1 else build.state()
            if value is None or not _JOINTS.isdisjoint(words):
                build.chain(source, words, target)
            if value is not None:
                _number(build, source, value, target)
            source = target
    return WordGraph(build.states, 0, frozenset(ends), tuple(build.arcs))


def runs(words: Sequence[str]) -> Iterator[tuple[Sequence[str], numbers.Spoken | None]]:
    """The words in pieces: the longest stretches that are one number, with their value, and single other words."""
    at = 0
    while at < len(words):
        for end in range(len(words), at, -1):
            value = numbers.parse(words[at:end])
            if value is not None:
                yield words[at:end], value
                break
        else:
            end = at + 1
            yield words[at:end], None
        at = end


def exchanged(words: str, other: str) -> Iterator[str]:
    """``words`` with the numbers of ``other`` in place of its own, one at a time and all; none where counts differ."""
    pieces = list(runs(words.split()))
    at = [index for index, (_, value) in enumerate(pieces) if value is not None]
    said = [" ".join(piece) for piece, _ in pieces]
    theirs = [" ".join(piece) for piece, value in runs(other.split()) if value is not None]
    if len(theirs) != len(at):
        return
    changed = {index: number for index, number in zip(at, theirs, strict=True) if said[index] != number}
    for few in (*({index: number} for index, number in changed.items()), *([changed] if len(changed) > 1 else [])):
        yield " ".join(few.get(index, piece) for index, piece in enumerate(said))


def _number(build: _Builder, source: int, value: numbers.Spoken, target: int) -> None:
    """Adds every way to say ``value``: as a whole number, and as digits and pairs one after the other."""
    literal = value.literal
    if abs(value.value) <= 999_999:
        for form in numbers.forms(literal):
            if not _JOINTS.isdisjoint(form.split()):
                build.chain(source, form.split(), target)
    if literal.startswith("-"):
        begin = build.state()
        build.arcs[source, "minus", begin] = None
        source, literal = begin, literal[1:]
    whole, _, after = literal.partition(".")
    if len(whole) + len(after) > _MOST_DIGITS:
        return
    if not after:
        _pieces(build, source, whole, target)
        return
    point, fraction = build.state(), build.state()
    _pieces(build, source, whole, point)
    build.arcs[point, "point", fraction] = None
    if whole.strip("0") == "":
        build.arcs[source, "point", fraction] = None
    _pieces(build, fraction, after, target)


def _pieces(build: _Builder, source: int, digits: str, target: int) -> None:
    """Digits said one by one or in pairs, in every mixture; but behind "forty" no single "three", that is one pair."""
    at = [source, *(build.state() for _ in digits[1:]), target]
    behind_tens: dict[int, int] = {}
    for index, digit in enumerate(digits):
        for word in _ZEROS if digit == "0" else (numbers.DIGITS[int(digit)],):
            build.arcs[at[index], word, at[index + 1]] = None
        pair = digits[index : index + 2]
        if len(pair) < 2 or digit == "0":
            continue
        following = at[index + 2]
        if digit != "1" and pair[1] == "0" and digits[index + 2 : index + 3] not in ("", "0"):
            following = behind_tens[index + 2] = build.state()
        for state in {at[index], behind_tens.get(index, at[index])}:
            build.chain(state, numbers.say_pair(int(pair)).split(), following)
