"""The rules for what is said of the whole: whether it is safe, after a long hold, at the end, in an emergency."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import takewhile

from assistant.dialogue.turn import Reply
from tests.safety.books import Books
from tests.safety.rules import Break

#: What first aid and fire prevention put first, by what was called out.
_FIRST = {
    "shock": r"\bcut the power\b.*\bcall\b",
    "person-down": r"\bcut the power\b.*\bcall\b",
    "fire": r"\bout\b.*\bcall\b",
    "smoke": r"\bout\b.*\bcall\b",
    "gas-alarm": r"\bout\b.*\bno (flame|spark)",
    "leak-in-room": r"\bout\b.*\bno (flame|spark)",
    "burning-smell": r"\bswitch off\b|\bcut the power\b",
    "burn": r"\bcool\b.*\bwater\b",
}


def emergency_first(kind: str, replies: Sequence[Reply]) -> Iterator[Break]:
    """What to do first is said first, and nothing is led on to in the same breath."""
    first = replies[0].text.lower() if replies else ""
    if not re.search(_FIRST[kind], first):
        yield Break("emergency-first", f"{kind}: first said was “{first}”")
    if any(reply.about == "instruction" for reply in replies):
        yield Break("emergency-first", f"{kind}: the visit was led on in the same breath")


def safe_is_true(books: Books, replies: Sequence[Reply]) -> Iterator[Break]:
    """ "Is it safe?" is answered by what was measured; a danger that bars is named first."""
    said = [reply.text for reply in replies]
    bars = books.barring("power", "flame", "touch", "stay")
    if bars and not said[0].startswith("No."):
        yield Break("safe-is-true", f"“{said[0]}” although {bars[0]}")
    for text in said:
        if "It is locked out" in text and not books.locked:
            yield Break("safe-is-true", f"“{text}” though it is not locked out")
        claim = re.search(r"^At (the|this) ([\w ']+?) it is locked out and was measured dead", text)
        if claim is None:
            continue
        if not books.locked:
            yield Break("safe-is-true", f"“{text}” though it is not locked out")
            continue
        place = next(at for word, at in _CALLED.items() if word in claim.group(2))
        why = books.why_not_dead(place)
        if why:
            yield Break("safe-is-true", f"“{text}”: {why}")
    if not books.locked and not any(text.startswith(("No", "Not")) for text in said):
        yield Break("safe-is-true", f"“{said[0]}” though it is not locked out")


_CALLED = {
    "outdoor unit": "outdoor",
    "indoor unit": "indoor",
    "signal": "signal",
    "joint": "line",
    "disconnect": "supply",
}


def long_hold(replies: Sequence[Reply]) -> Iterator[Break]:
    """After a long hold lock, measurement and caution are all to be made again, and that is said.

    Who is told to count the unit as live has been told more: all of them come before anything else that is touched.
    """
    first = takewhile(lambda reply: reply.about != "instruction", replies)  # before anything is led on to
    said = " ".join(reply.text.lower() for reply in first)
    if "count the unit as live" not in said and not all(word in said for word in ("lock", "measure", "caution")):
        yield Break("long-hold", f"after a long hold only: “{said[:120]}”")


_HOW_IT_IS_LEFT = r"Barred:|Left |A lock may still hang|The refrigerant circuit is left"


def left_is_told(books: Books, replies: Sequence[Reply]) -> Iterator[Break]:
    """A visit that ends tells first how the unit is left."""
    said = [reply.text for reply in replies]
    bars = books.barring("power", "flame", "touch", "stay")
    wanted: list[tuple[bool, str]] = [
        (bool(bars), r"^Barred:"),
        (books.locked, r"^Left isolated and locked"),
        (bool(books.off), r"^Left off:"),
        (books.circuit != {"charged"}, r"^The refrigerant circuit is left"),
    ]
    missing = [pattern for holds, pattern in wanted if holds and not any(re.search(pattern, text) for text in said)]
    if missing:
        yield Break("left-is-told", f"not said at the end: {missing}, {bars}")
    elif any(holds for holds, _ in wanted) and not re.match(_HOW_IT_IS_LEFT, said[0]):
        yield Break("left-is-told", f"not said first, but “{said[0]}”")
    claims = any(re.search(r"locked, proved dead", text) for text in said)
    if claims and all(books.why_not_dead(place) for place in ("outdoor", "indoor", "signal", "line", "supply")):
        yield Break("left-is-told", "proved dead is claimed of a unit of which no place was")
