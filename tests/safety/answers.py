"""What answers tell the onlooker: the lock, what was measured, and what was found that forbids."""

from __future__ import annotations

import re

from assistant.language.meaning import Reading
from tests.safety.books import INSULATION_OHM, MAINS_BELOW_V, SHORT_BELOW_V, STORED_BELOW_V, Books
from tests.safety.rules import Break, Step

_EMERGENCY = "called out: "
_ALL = {"power", "flame", "touch"}


def take(
    books: Books,
    step: Step,
    asked: str,
    words: str,
    reading: Reading | None,
    place: str,
    unproving: bool,
    parts: int = 0,
) -> list[Break]:
    """Enter one answer. ``unproving``: told unasked or corrected later, so that it gives no safety. ``parts``: at how
    many places the question wants a reading."""
    asked = asked.lower()
    if reading is not None and reading.value is not None:
        return _read(books, step, asked, reading, place, unproving, parts)
    if reading is None:
        _chosen(books, step, asked, words.lower(), unproving)
    return []


# ---- readings -----------------------------------------------------------------------------------------------------


def _read(
    books: Books, step: Step, asked: str, reading: Reading, place: str, unproving: bool, parts: int
) -> list[Break]:
    assert reading.value is not None
    if reading.quantity in ("voltage_ac", "voltage_dc") and "diode test" not in step.words.lower():
        return _volts(books, step, reading, place, unproving, parts)
    if "megohms" in asked and re.search(r"\btester\b|five hundred", step.words.lower()):
        if reading.value < INSULATION_OHM:
            wants = {f"insulation: {step.name}"}
            books.found(f"insulation: {step.name}", {"power"}, wants, needs_repair=not step.cold, **_told_by(step))
        elif not unproving:
            books.seen_good(f"insulation: {step.name}")
            books.seen_good("insulation")
    if "diode test" in step.words.lower() and not unproving:
        step.readings[f"{asked} {place}"] = reading.value
    return []


def _volts(books: Books, step: Step, reading: Reading, place: str, unproving: bool, parts: int) -> list[Break]:
    """What is read of a locked unit. Returns what has to be said of it in the same breath."""
    if not books.locked or len(step.places) == 0:
        return []
    assert reading.value is not None
    breaks: list[Break] = []
    mains = reading.quantity == "voltage_ac"
    limit = MAINS_BELOW_V if mains else STORED_BELOW_V
    for at in step.places:
        if abs(reading.value) >= limit and mains:
            books.live()
            return []
        if unproving:
            if abs(reading.value) >= limit:
                books.forget(at)
        elif mains:
            books.read_mains(at, "earth" if "ground" in place else "line", reading.value)
        else:
            books.read_stored(at, place, reading.value, step.number)
            stored = books.stored_v(at) or 0.0  # of capacitors in series the sum, once all are read
            if len(books.stored[at]) >= parts and books.does_not_fall(at, stored):
                breaks.append(Break("not-falling", f"{stored:g} V at {at} does not go by itself"))
    return breaks


def left(books: Books, step: Step) -> None:
    """A check is left half made: a short that was read is one, whatever the other diodes would have read."""
    if step.readings and min(step.readings.values()) < SHORT_BELOW_V:
        books.found(f"short: {step.name}", {"power"}, {f"diodes: {step.name}"}, **_told_by(step))
    step.readings.clear()


def judged(books: Books, step: Step) -> None:
    """A check is over: all that its diodes read together, and what it read of stored charge."""
    books.decay |= books.read_now
    books.read_now = {}
    if step.readings and min(step.readings.values()) < SHORT_BELOW_V:
        books.found(f"short: {step.name}", {"power"}, {f"diodes: {step.name}"}, **_told_by(step))
    elif step.readings:
        books.seen_good(f"diodes: {step.name}")
        books.seen_good("module" if re.search(r"\bu, v", step.words.lower()) else "rectifier")
    step.readings.clear()


# ---- findings -----------------------------------------------------------------------------------------------------


def _chosen(books: Books, step: Step, asked: str, words: str, unproving: bool) -> None:
    if "say locked" in asked:
        _lock(books, words, unproving)
    elif "meter still good" in asked:
        if words in ("still good", "yes") and not unproving:
            books.meter_was_good()
        elif words not in ("still good", "yes"):
            books.meter_was_bad()
    elif "all back on" in asked and "all back" in words:
        books.back_last = {name: at for name, at in books.off.items() if name in books.ordered_back}
        books.off = {name: at for name, at in books.off.items() if name not in books.ordered_back}
        books.ordered_back.clear()
    elif "all back on" in asked and unproving:
        books.off |= books.back_last
    elif "warm" in asked and "cold" in asked:
        step.cold = words.startswith("cold")
    elif "detector silent all through" in asked and words == "yes" and not unproving:
        books.seen_good("air")
    elif "free of bubbles" in asked and words.startswith("yes") and not unproving:
        books.seen_good("leak")
    _circuit(books, asked, words, unproving)
    _dangers(books, step, asked, words, unproving)


def _lock(books: Books, words: str, unproving: bool) -> None:
    if words == "locked":
        if books.lock_ordered and not unproving:
            books.lock()
            books.seen_good("lock")
        return
    books.live()
    books.found("no lock", {"touch"}, {"lock"}, needs_repair=False)


def _circuit(books: Books, asked: str, words: str, unproving: bool) -> None:
    done = {"recovered": "recovered", "purged": "purged"}.get(words)
    if "by the gauge" in asked:
        told = {"refrigerant": "charged", "vacuum": "evacuated", "nitrogen": "under nitrogen", "empty": "recovered"}
        books.circuit = {told.get(words, "opened")}
    elif done and f"say {done}" in asked:
        books.circuit = {done}
    elif unproving and re.search(r"\bsay (recovered|purged)\b", asked):
        books.circuit = books.circuit | {"charged"}


def _dangers(books: Books, step: Step, asked: str, words: str, unproving: bool) -> None:
    hurt = re.search(r"\b(burnt|bulged)\b", words)
    if "board" in step.title.lower():
        hurt = hurt or re.search(r"\bwet\b", words)
    if hurt and "smell" in asked:
        symptom(books, "it smells burnt", step)
    elif hurt:
        books.found(f"{hurt.group(0)}: {step.name}", {"power"}, {step.name}, **_told_by(step))
    elif not unproving:
        books.seen_good(step.name)
    of_breaker = "breaker" in step.words.lower() or "power is on" in asked
    if "did the breaker trip" in asked:
        step.tripped = words == "yes"
    leaks = step.tripped and "with a test button" in asked and "button" in words  # such a one trips for a leak too
    if leaks or (of_breaker and re.search(r"\btrips?\b|\btripped\b", words)):
        of = {"insulation", "rectifier", "module"}
        books.found("it trips", {"power"}, of, needs_repair=False, **_told_by(step))


def _told_by(step: Step) -> dict[str, str | int]:
    return {"by": step.name, "number": step.number}


def symptom(books: Books, name: str, step: Step | None = None) -> None:
    """What the unit shows, in the words in which it is said; ``step``: the one whose answer it is."""
    name = name.lower()
    if re.search(r"\bburn(ing|t)\b|\bsmoke\b", name):
        books.found("smell of burning", {"power"}, {"insulation"}, **(_told_by(step) if step else {}))
    if re.search(r"\btrips\b", name):  # what carried the load for a while has no short; it may leak (1910.334(b)(2))
        after = "after" in name
        wants = {"insulation"} if after else {"insulation", "rectifier", "module"}
        books.found("it trips" + " after a while" * after, {"power"}, wants, needs_repair=False)
    if "shock" in name:
        books.found("shock from the case", {"power"}, {"insulation"})


# ---- emergencies --------------------------------------------------------------------------------------------------


def emergency(books: Books, kind: str) -> None:
    """Somebody called out: what it forbids, whatever comes of it."""
    name = _EMERGENCY + kind
    if kind in ("shock", "person-down"):
        books.found(name, {"power", "flame", "touch"}, set(), lasts=True)
    elif kind in ("fire", "smoke"):
        books.found(name, {"power", "flame", "touch", "stay"}, set(), lasts=True)
    elif kind in ("gas-alarm", "leak-in-room"):
        books.found(name, {"power", "flame", "stay"}, {"air"}, needs_repair=False)
        books.found(f"{name}, its leak", {"power"}, {"leak"})
    elif kind == "burning-smell":
        books.found(name, {"power"}, {"insulation"})
    if kind not in ("burn", "gas-alarm", "leak-in-room"):
        books.live()


def false_alarm(books: Books) -> None:
    """It was misheard; what was forbidden before still is."""
    books.dangers = {name: danger for name, danger in books.dangers.items() if not name.startswith(_EMERGENCY)}
