"""From the spans of one parse to the meanings that they may have: places given out, corrections applied."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import product

from assistant.language import ledger, sums
from assistant.language.meaning import (
    BackQuestion,
    Calculation,
    Cannot,
    Command,
    Correction,
    Emergency,
    Expectation,
    Finding,
    Indication,
    LedgerSaid,
    Meaning,
    Reading,
    ReadingExpectation,
    Readings,
)
from assistant.language.parsing import Parse, Span
from assistant.language.quantities import Candidate, candidates
from assistant.language.units import UnitError

COST_UNPLACED = 2.0
#: A correction is of the latest answer; enough that the other question's reading is no rival.
COST_OTHER_QUESTION = 2.5
COST_COMMAND = 0.5  # an answer that the question expects comes before a command of the same words
#: Ways that the items of one answer are combined, the likeliest first.
MOST_COMBINATIONS = 24


@dataclass(frozen=True)
class Sense:
    """A meaning, how unlikely it is, and its doubt."""

    meaning: Meaning
    cost: float
    doubt: str = ""


@dataclass(frozen=True)
class _Item:
    """One reading of a breath with the place that was named for it; ``same`` copies the one before."""

    choices: tuple[Candidate, ...]
    place: str | None
    everywhere: Span | None
    same: bool
    amends: bool


def senses(parse: Parse, expectation: Expectation) -> list[Sense]:
    """Every meaning of ``parse`` in this state, costs including the parse's own."""
    corrects = any(span.kind == "correct" for span in parse.spans)
    for span in parse.spans:
        if span.kind == "before":
            return _replaced(span, parse, expectation)
        if span.kind == "choice":
            return [_answer(span.name, corrects, parse, expectation)]
        if span.kind in ("command", "check"):
            name, argument = (span.name, "") if span.kind == "command" else ("check", span.name)
            return [Sense(Command(name=name, argument=argument), parse.cost + COST_COMMAND, _joined(parse.notes))]
        if span.kind == "sum":
            return calculation(span.name, parse)
        if span.kind == "entry":
            noted = ledger.closed_entry(span)
            doubt = _joined((*parse.notes, noted[1])) if noted else ""
            meant = LedgerSaid(entry=noted[0], corrects=corrects) if noted else None
            return [Sense(meant, parse.cost + COST_COMMAND, doubt)] if meant is not None else []
        anytime = _anytime(span)
        if anytime is not None:
            return [Sense(anytime, parse.cost + COST_COMMAND, _joined(parse.notes))]
    if any(span.kind == "item" for span in parse.spans) and expectation.reading is not None:
        cost = COST_OTHER_QUESTION if corrects and not _confirming(expectation) and expectation.corrects else 0.0
        return _readings(parse.spans, parse, expectation.reading, corrects, cost)
    return [Sense(Correction(), parse.cost, _joined(parse.notes))] if corrects else []


def _anytime(span: Span) -> Meaning | None:
    """What may be said whatever is asked: ``grammars/cannot.jsgf``, ``questions.jsgf`` and ``emergencies.jsgf``."""
    match span.kind:
        case "cannot":
            return Cannot.model_validate({"reason": span.name})
        case "ask":
            return BackQuestion.model_validate({"topic": span.name})
        case "emergency":
            return Emergency.model_validate({"what": span.name})
    return None


def _oh_or_no(words: str) -> str:
    """ "no point four" sounds like "oh point four": a doubt, else empty."""
    begins = words.split()[:2]
    sounds_alike = begins[:1] == ["no"] and begins[1:] in (["point"], ["oh"], ["zero"])
    return 'it may have been "oh" and not "no"' if sounds_alike else ""


def _answer(choice: str, corrects: bool, parse: Parse, expectation: Expectation) -> Sense:
    doubt = _joined(parse.notes)
    if corrects and choice == "no" and parse.words.startswith("no "):  # "no, it held": one no, and what it means
        corrects = False
    if corrects:
        return Sense(Correction(meaning=Finding(choice=choice)), parse.cost, doubt)
    if expectation.choice_kind == "indication":
        return Sense(Indication(choice=choice), parse.cost, doubt)
    return Sense(Finding(choice=choice), parse.cost, doubt)


def _confirming(expectation: Expectation) -> bool:
    """While the assistant asks "I heard ..., right?", a correction is of that, not of an older answer."""
    return any(choice.id == "yes" for choice in expectation.choices) and expectation.reading is not None


def _replaced(span: Span, parse: Parse, expectation: Expectation) -> list[Sense]:
    """A correction of the answer to an earlier question."""
    cost = COST_OTHER_QUESTION if _confirming(expectation) else 0.0
    for inner in span.inner:
        if inner.kind == "choice":
            meaning = Correction(meaning=Finding(choice=inner.name))
            return [Sense(meaning, parse.cost + cost, _joined(parse.notes))]
    if expectation.corrects is None:
        return []
    return _readings(tuple(span.inner), parse, expectation.corrects, True, cost)


def calculation(name: str, parse: Parse) -> list[Sense]:
    """The sum ``name`` with what was given for it; nothing when a value does not belong to it."""
    wanted = sums.known()[name]
    values: list[tuple[str, Reading]] = []
    doubts = list(parse.notes)
    for given in (span for span in parse.spans if span.kind == "given"):
        taken = wanted.parameter(given.all("parameter")[0].name)
        if taken is None or any(taken.name == known for known, _ in values):
            return []
        expected = ReadingExpectation(quantity=taken.quantity, unit=taken.unit, plausible=(-math.inf, math.inf))
        try:
            value = candidates(given, expected)[0]
        except (UnitError, IndexError):
            return []
        values.append((taken.name, value.reading))
        doubts.append(value.doubt)
    return [Sense(Calculation(name=name, values=tuple(values)), parse.cost, _joined(tuple(doubts)))]


def _joined(notes: tuple[str, ...]) -> str:
    """Several doubts as one sentence; empty when there is none."""
    text = ", and ".join(dict.fromkeys(note for note in notes if note))
    return f"{text[0].upper()}{text[1:]}." if text else ""


def _readings(
    spans: tuple[Span, ...], parse: Parse, expected: ReadingExpectation, corrects: bool, extra: float
) -> list[Sense]:
    items = _items(spans, expected)
    if items is None:
        return []
    unsure = _oh_or_no(parse.words) if corrects else ""
    found: list[Sense] = []
    orders = [item.choices for item in items]
    for combination in list(product(*orders))[:MOST_COMBINATIONS]:
        placed = _placed(items, combination, expected)
        if placed is None:
            continue
        readings, cost, notes = placed
        meaning: Meaning = Readings(items=tuple(readings))
        if corrects:
            meaning = Correction(meaning=Readings(items=tuple(readings)))
        found.append(Sense(meaning, parse.cost + cost + extra, _joined((*parse.notes, *notes, unsure))))
    return found


def _items(spans: tuple[Span, ...], expected: ReadingExpectation) -> list[_Item] | None:
    """The items of one breath; None when the spans cannot be one answer."""
    found: list[_Item] = []
    # The place and "all of them" may stand before or inside the item's own span.
    waiting: list[Span] = []
    for span in spans:
        if span.kind != "item":
            waiting.append(span)
            continue
        own = [*waiting, *span.inner]
        places = {one.name for one in own if one.kind == "place"}
        same = any(one.kind == "same" for one in own)
        choices = tuple(candidates(span, expected)) if not same else ()
        if len(places) > 1 or not (same or choices):
            return None
        everywhere = next((one for one in own if one.kind == "all"), None)
        amends = any(one.kind == "amends" for one in own)
        found.append(_Item(choices or (_COPY,), next(iter(places), None), everywhere, same, amends))
        waiting = []
    return found


_COPY = Candidate(Reading(quantity="count", value=None, spoken_value=None, spoken_unit=""))

_Placed = tuple[list[Reading], float, tuple[str, ...]]


def _placed(items: list[_Item], chosen: tuple[Candidate, ...], expected: ReadingExpectation) -> _Placed | None:
    """The readings with their places, the cost of what was left unsaid, and the doubts; None when it makes no sense."""
    readings: list[Reading] = []
    cost, notes = 0.0, []
    for item, candidate in zip(items, chosen, strict=True):
        if item.same:
            if not readings:
                return None
            reading = readings[-1].model_copy(update={"place": item.place})
        else:
            reading = candidate.reading.model_copy(update={"place": item.place})
            cost += candidate.cost
            notes.append(candidate.doubt)
        if item.amends:
            if not readings:
                return None
            before = readings.pop()
            reading = reading.model_copy(update={"place": item.place or before.place})
            notes.append("the reading was changed while it was said")
        if item.everywhere is not None:
            if len(items) > 1 or item.everywhere.name not in ("", str(len(expected.places))):
                return None
            readings += [reading.model_copy(update={"place": place.id}) for place in expected.places]
        else:
            readings.append(reading)
    readings, extra, note = _given_out(readings, expected)
    return readings, cost + extra, (*notes, note)


def _given_out(readings: list[Reading], expected: ReadingExpectation) -> tuple[list[Reading], float, str]:
    """Places for readings that were named none: the only one asked, or all of them in the order asked."""
    named = [reading.place for reading in readings]
    places = [place.id for place in expected.places]
    if not places:
        if len(readings) > 1:
            return readings, COST_UNPLACED * 2, "one reading was asked and several were said"
        return readings, 0.0, ""
    if not any(named) and len(named) == len(places):
        return [r.model_copy(update={"place": p}) for r, p in zip(readings, places, strict=True)], 0.0, ""
    if None in named:
        return readings, COST_UNPLACED, "it was not said where that was read"
    if len(set(named)) < len(named):
        return readings, COST_UNPLACED, "one place was named twice"
    return readings, 0.0, ""
