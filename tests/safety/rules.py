"""The rules for a step that is being spoken: what must hold before hands, power or flame go near."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from assistant.dialogue.turn import Reply
from tests.safety.books import TEST_BELOW_V, Books
from tests.safety.things import THING_WORDS
from tests.safety.words import Touch, places, touches

#: Where a place of work has a proof of its own.
WORKED_AT = ("outdoor", "indoor", "signal", "line", "supply")
_HANDS = ("handle", "meter-dead", "insulation")
#: A circuit may be opened in these states, and a flame brought to it in those.
_OPENABLE = {"recovered", "opened", "purged", "evacuated"}
_FLAMEABLE = {"purged", "opened"}
#: What stands in a vacuum are the compressor's windings: thin gas breaks down at a few hundred volts (Paschen's law).
#: Supply wires that are off the unit, the tester on them, lie in air, as IEC 60364-6, 6.4.3.3 (from memory) has it.
_CABLE_ALONE = re.compile(r"\bsupply wires off\b[^.]*\. tester clipped (on them|between them)\b")


@dataclass(frozen=True)
class Break:
    """A rule that was broken, and how."""

    rule: str
    how: str


@dataclass
class Step:
    """What is being led through: its title and all of its words, and where it is as far as they tell."""

    name: str = ""
    title: str = ""
    words: str = ""
    places: frozenset[str] = frozenset()
    number: int = 0
    ahead: str = ""  # the words of the step that this one only leads to
    readings: dict[str, float] = field(default_factory=dict)
    spoken: set[str] = field(default_factory=set)
    cold: bool = False
    tripped: bool = False


def look_at(books: Books, step: Step, text: str) -> list[Break]:
    """The rules that a spoken instruction or question breaks."""
    done = touches(_without_what_is_off(books, text))
    kinds: set[str] = {touch.kind for touch in done}
    again = text in step.spoken
    step.spoken.add(text)
    asked = text.rstrip().endswith("?")
    where = frozenset(places(text)) or step.places
    out: list[Break] = []
    if kinds & set(_HANDS):
        out += _hands(books, step, _where_hands_are(text) or where, [touch for touch in done if touch.kind in _HANDS])
    if "volts" in kinds or "clamp" in kinds:
        out += _probes(books, step, where, "clamp" in kinds)
    if "insulation" in kinds:
        out += _caution(books, step, where, "500 V", heard=True)
        if books.circuit & {"evacuated"} and not _CABLE_ALONE.search(step.words.lower()):
            out.append(Break("no-test-in-vacuum", step.title))
        if re.search(r"\bheld\b|\bhold (them|it|the)\b", text.lower()):
            out.append(Break("no-hand-at-500-V", f"“{text}”"))
    if "meter-dead" in kinds and re.search(r"\bdiode test\b|\bcapacitance range\b", text.lower()):
        stored = books.stored_v("outdoor")
        if stored is None or stored >= TEST_BELOW_V:
            out.append(Break("stored-for-diodes", f"{step.title}: {stored} V stored"))
    if asked:
        return out
    out += _covers_and_fans(books, step, where, kinds)
    out += _refrigerant(books, step, kinds, text, again)
    out += _as_it_is_said(books, text)
    if "water" in kinds:
        out += _water(books, step, where, text)
    if "power-on" in kinds:
        out += power_comes_on(books, step, text)
    elif "run" in kinds:
        out += _runs(books, step)
    return out


def _where_hands_are(text: str) -> frozenset[str]:
    """The places that are named in the sentences in which hands are at work."""
    sentences = re.split(r"(?<=[.?!])\s+", text)
    at_work = [each for each in sentences if any(touch.kind in _HANDS for touch in touches(each))]
    return frozenset(places(" ".join(at_work)))


def _without_what_is_off(books: Books, text: str) -> str:
    """The words without the taking off of what is off already: it is only recalled."""
    said = text.lower()
    for name, off, _ in THING_WORDS:
        if name in books.off:
            said = off.sub("", said)
    return said


def _as_it_is_said(books: Books, text: str) -> Iterator[Break]:
    """A step on a live unit that speaks of something as off already: it is off, or a hand pulls it live."""
    said = text.lower()
    for name, words in _STILL_OFF.items():
        if re.search(words, said) and name not in books.off and not books.locked:
            yield Break("off-as-said", f"“{text}”: the {name} is not off")


_STILL_OFF = {
    "fan plug": r"\bmotor still unplugged\b",
    "signal conductors": r"\bsignal conductors still off\b",
    "compressor leads": r"\bleads off and capped\b",
    "thermometer clamps": r"\bread (both probes|the two clamps|the clamp)\b",
}


# ---- electricity ------------------------------------------------------------------------------------------------


def _hands(books: Books, step: Step, where: frozenset[str], done: list[Touch]) -> Iterator[Break]:
    """NFPA 70E-2024, 120.6; 29 CFR 1910.333(b)(2)(iv): dead where the work is, and shown so."""
    words = f"“{done[0].words}” in {step.title}"
    worked = [place for place in WORKED_AT if place in where]
    if not worked:
        yield Break("place-told", f"{words}: the words do not say where")
    for place in worked:
        why = books.why_not_dead(place)
        if why:
            yield Break("dead-before-touch", f"{words}, {place}: {why}")
    for danger in books.barring("touch", "stay"):
        yield Break("no-touch-when-barred", f"{words}: {danger}")
    if "outdoor" in where:
        yield from _heights(books, step)


def _probes(books: Books, step: Step, where: frozenset[str], clamp: bool) -> Iterator[Break]:
    """29 CFR 1910.333(a)(2), (b)(1), (c): live work by its own caution; what is not shown dead is taken as live."""
    worked = [place for place in WORKED_AT if place in where]
    if not worked:
        yield Break("place-told", f"{step.title}: a probe, and the words do not say where")
    if books.locked and not clamp:
        yield from _caution(books, step, where, "as live", heard=True, in_step=False)
    else:
        yield from _caution(books, step, where, "live", heard=True)
        yield from _caution(books, step, where, "rated meter" if not clamp else "insulation only")
        if {"outdoor", "indoor"} & where and "motor still unplugged" not in step.words.lower():
            yield from _caution(books, step, where, "fan")
        if "signal" in where:
            yield from _caution(books, step, where, "signal mains")
        if "supply" in where and re.search(r"\bpanel\b|\bbreaker's\b", step.words.lower()):
            yield from _caution(books, step, where, "panel flash", heard=True)
        for danger in books.barring("touch", "stay"):
            yield Break("no-touch-when-barred", f"{step.title}: {danger}")
        for danger in books.barring("power"):
            yield Break("power-only-when-clear", f"{step.title}: a live test in spite of: {danger}")
    if "outdoor" in where:
        yield from _heights(books, step, proof=books.locked)


def _heights(books: Books, step: Step, proof: bool = False) -> Iterator[Break]:
    for topic in ("ladder", "edge"):  # of whichever step outdoors: where the ladder stands its words do not tell
        yield from _caution(books, step, frozenset(), topic, in_step=not proof)


def _caution(
    books: Books, step: Step, where: frozenset[str], topic: str, heard: bool = False, in_step: bool = True
) -> Iterator[Break]:
    why = books.was_told(topic, where, step.number, heard)
    if why and (in_step or "called to mind" not in why):
        rule = {"live": "live-caution", "fan": "fan-after-power-up"}.get(topic, f"caution: {topic}")
        yield Break(rule, f"{step.title}: {why}")


def _covers_and_fans(books: Books, step: Step, where: frozenset[str], kinds: set[str]) -> Iterator[Break]:
    if "cover" in kinds and not books.locked:
        yield from _caution(books, step, where, "live", heard=True)
    if "moving" in kinds and not books.locked:
        yield Break("still-before-fingers", f"{step.title}: not locked out")
    if kinds & {"cover", "moving"}:
        for danger in books.barring("touch", "stay"):
            yield Break("no-touch-when-barred", f"{step.title}: {danger}")


def power_comes_on(books: Books, step: Step, text: str) -> list[Break]:
    """29 CFR 1910.147(e), 1910.334(b)(2): only on a whole unit that nothing forbids, with everybody told."""
    out = [Break("power-only-when-clear", f"“{text}”: {danger}") for danger in books.barring("power", "stay")]
    shut = re.search(r"\bcovers? (on|closed)\b", text.lower())
    if books.locked or not (shut or re.search(r"\bstand aside\b", text.lower())):
        out += _caution(books, step, frozenset(), "before power", heard=True)
    if books.circuit != {"charged"}:
        out.append(Break("no-run-on-an-open-circuit", f"“{text}”: {sorted(books.circuit)}"))
    out += _whole(books, step)
    books.powered()
    return out


def _whole(books: Books, step: Step) -> Iterator[Break]:
    """29 CFR 1910.147(e)(1): what is off is back on, but for what the step ahead itself wants off."""
    wanted = f"{step.words} {step.ahead}".lower()
    left = sorted(name for name in books.off if not any(word in wanted for word in _KNOWN_BY[name]))
    if left:
        yield Break("put-back-before-power", f"{step.title}: {left} off")


def _runs(books: Books, step: Step) -> Iterator[Break]:
    """The machine runs in this step: nothing bars it, and what is off is what the step itself wants off."""
    for danger in books.barring("power", "stay"):
        yield Break("power-only-when-clear", f"{step.title}: {danger}")
    yield from _whole(books, step)
    if books.circuit != {"charged"}:
        yield Break("no-run-on-an-open-circuit", f"{step.title}: {sorted(books.circuit)}")


#: By what words a step says itself that this is off or out in it.
_KNOWN_BY: dict[str, tuple[str, ...]] = {
    name: ("capped apart", "still unplugged", "still off") for name, *_ in THING_WORDS
}
_KNOWN_BY["thermometer clamps"] = ("probes from outside", "clamps from outside", "read the clamp", "clamp on the")
_KNOWN_BY["valve coil"] = ("the needle",)  # a magnet stands in for the coil
_KNOWN_BY["pump hose"] = ("bucket below",)
_KNOWN_BY["air filter"] = ("filter",)


# ---- refrigerant, flame, water ------------------------------------------------------------------------------------


def _refrigerant(books: Books, step: Step, kinds: set[str], text: str, again: bool) -> Iterator[Break]:
    """ISO 5149-4, EN 378-4: recovered before it is opened, purged before a flame, each with its caution."""
    recalled = re.search(
        r"\bwith the charge recovered\b|^charge recovered\b", text.lower()
    )  # said to be so, it has to be so
    openable = _OPENABLE | ({"under nitrogen"} if "open-circuit" not in kinds else set())
    if "flame" in kinds:
        yield from _caution(books, step, frozenset(), "braze", heard=True)
        if not (again or books.circuit <= _FLAMEABLE):  # once begun, the step itself opens it
            yield Break("flame-only-when-purged", f"{step.title}: the circuit is {sorted(books.circuit)}")
        for danger in books.barring("flame", "stay"):
            yield Break("no-flame-when-barred", f"{step.title}: {danger}")
    elif (recalled or "open-circuit" in kinds) and not (again or books.circuit <= openable):
        yield Break("recovered-before-opened", f"{step.title}: the circuit is {sorted(books.circuit)}")
    if kinds & {"gauge", "charge", "open-circuit"}:
        yield from _caution(books, step, frozenset(), "goggles")
        yield from _caution(books, step, frozenset(), "fresh air")
    if "nitrogen" in kinds:
        yield from _caution(books, step, frozenset(), "nitrogen", heard=True)
    for kind, state in _MAKES:
        if kind in kinds:
            books.circuit = books.circuit | {state}


_MAKES = (
    ("recover", "recovered"),
    ("open-circuit", "opened"),
    ("nitrogen", "under nitrogen"),
    ("evacuate", "evacuated"),
    ("charge", "charged"),
)


def circuit_is(books: Books, words: str) -> None:
    """What the circuit holds once a step is over that was begun."""
    kinds = {touch.kind for touch in touches(words)}
    made = next((state for kind, state in reversed(_MAKES) if kind in kinds and state in books.circuit), "")
    if made and "purge" not in words.lower():  # that one is told by its own answer
        books.circuit = {made}


def _water(books: Books, step: Step, where: frozenset[str], text: str) -> Iterator[Break]:
    stands = re.search(r"\b(let the fan stand|fans? off)\b", text.lower())
    if not books.locked and not stands:
        yield Break("water-and-power", f"{step.title}: poured while the unit has power")


def one_question(replies: list[Reply]) -> list[Break]:
    """Beside a caution that waits no other question is open."""
    after = [reply.text for reply in replies if reply.about in ("question", "instruction")]
    if after and not any("nderstood" in text or "safe" in text.lower() for text in after[-1:]):
        return [Break("one-question", f"“{after[-1]}” beside a caution that waits")]
    return []
