"""A reading that contradicts an earlier one of the same thing: it is asked back on the spot, before it is recorded."""

from __future__ import annotations

from functools import lru_cache

from assistant.dialogue.asking import pending
from assistant.dialogue.state import Given
from assistant.dialogue.turn import Turn
from assistant.language.meaning import Meaning, Reading, Readings
from assistant.library.loader import Library

#: Two readings of one thing may differ by this share of the greater one: meters, and what wanders between them.
#: Common practice, no source.
APART_SHARE = 0.1


def contradicted(turn: Turn, meaning: Meaning) -> Reading | None:
    """The earlier reading of the same thing, since the last repair, that this answer is far from; None without one."""
    run = turn.state.run
    now = pending(turn.check(run.check), run) if run is not None else None
    if run is None or now is None or not isinstance(meaning, Readings) or len(meaning.items) != 1:
        return None
    before = _earlier(turn, f"{run.check}.{now[0].key}")
    if before is None:
        return None
    earlier, value = before.value, meaning.items[0].value
    if earlier is None or value is None:
        return None
    return before if abs(value - earlier) > APART_SHARE * max(abs(value), abs(earlier)) else None


def _earlier(turn: Turn, question: str) -> Reading | None:
    """The newest reading of what reads the same thing, in either direction."""
    since = turn.state.mended[-1][1] if turn.state.mended else 0
    same = _same(turn.library, question)
    given = (item for result in turn.state.results[since:] for item in result.answers if _counts(item, same))
    readings = [item.answer for item in given if isinstance(item.answer, Reading)]
    return readings[-1] if readings else None


def _counts(given: Given, same: frozenset[str]) -> bool:
    return not given.replaced and f"{given.check}.{given.question}" in same


@lru_cache(maxsize=1024)
def _same(library: Library, question: str) -> frozenset[str]:
    """The questions that read the same thing as this one."""
    asked = ((f"{check.id}.{one.key}", one.repeats) for check in library.checks.values() for one in check.ask)
    pairs = [pair for pair in asked if all(pair)]
    return frozenset(other for pair in pairs if question in pair for other in pair if other != question)
