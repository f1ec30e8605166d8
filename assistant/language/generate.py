"""Sentences from the same grammar that recognises them, with what they mean: for tests, recordings and tuning."""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random
from typing import Literal

from assistant.language import numbers, units
from assistant.language.answers import Sense, senses
from assistant.language.automaton import Lookup
from assistant.language.jsgf import Alt, Expansion, Ref, Repeat, Seq, Tagged, Word
from assistant.language.meaning import Expectation, Meaning, ReadingExpectation
from assistant.language.parsing import Parse, Span
from assistant.language.state import check_phrases, lookup

Kind = Literal["reading", "finding", "command", "check", "correction"]

_SHARE: dict[Kind, float] = {"reading": 6, "finding": 3, "command": 2, "check": 1, "correction": 1}
_TRIES = 200
#: Rules that stand for a number of their own range; their words are made from a value, not walked.
_NUMBER_RULES = {"numbers.number", "numbers.below"}


@dataclass(frozen=True)
class Sentence:
    """Words of the grammar and their meaning; ``kind`` is the sort of sentence."""

    words: str
    meaning: Meaning
    kind: Kind


class _DeadEndError(Exception):
    """The walk came to a rule that this state leaves empty; another is begun."""


@dataclass
class _Walk:
    """One random way through the grammar: spans with their words, numbers still open in ``numbers``."""

    random: Random
    find: Lookup
    expected: ReadingExpectation | None
    root: Span = field(default_factory=lambda: Span("", ""))
    open_spans: list[Span] = field(default_factory=list)

    def word(self, text: str) -> None:
        for span in (self.root, *self.open_spans):
            span.words.append(text)

    def go(self, what: Expansion, grammar: str) -> None:
        if isinstance(what, Word):
            self.word(what.text)
        elif isinstance(what, Ref):
            expansion, home = self.find(what.name, grammar)
            self.go(expansion, home)
        elif isinstance(what, Seq):
            for item in what.items:
                self.go(item, grammar)
        elif isinstance(what, Alt):
            if not what.items:
                raise _DeadEndError
            weights = [weight for weight, _ in what.items]
            self.go(self.random.choices(what.items, weights)[0][1], grammar)
        elif isinstance(what, Repeat):
            self._repeat(what, grammar)
        else:
            self._tagged(what, grammar)

    def _repeat(self, what: Repeat, grammar: str) -> None:
        unit = isinstance(what.item, Ref) and what.item.name == "state.unit"
        times = 1 if what.least or self.random.random() < (0.75 if unit else 0.35) else 0
        while what.many and times and times < 4 and self.random.random() < 0.4:
            times += 1
        for _ in range(times):
            self.go(what.item, grammar)

    def _tagged(self, what: Tagged, grammar: str) -> None:
        kind, _, name = what.tag.partition(" ")
        span = Span(kind, name)
        (self.open_spans[-1] if self.open_spans else self.root).inner.append(span)
        self.open_spans.append(span)
        if kind in ("number", "low", "high") and _is_number(what.item):
            self.word(_SLOT)
        else:
            self.go(what.item, grammar)
        self.open_spans.pop()


_SLOT = "<number>"


def _is_number(what: Expansion) -> bool:
    if isinstance(what, Ref):
        return what.name in _NUMBER_RULES or what.name in ("rest", "end")
    return isinstance(what, Alt) and all(_is_number(item) for _, item in what.items)


def sentences(expectation: Expectation, n: int, seed: int) -> list[Sentence]:
    """``n`` sentences that may be said in the state of ``expectation``, each with its one certain meaning.

    Readings lie within the plausible range, with the digits that a meter shows. The same seed gives the same
    sentences. Fewer than ``n`` come back only when the state allows no more kinds of sentence.
    """
    random = Random(f"{seed} {expectation.question}")
    kinds = _kinds(expectation)
    found: list[Sentence] = []
    for _ in range(n * _TRIES):
        if len(found) == n:
            break
        kind = random.choices(list(kinds), list(kinds.values()))[0]
        made = _one(kind, expectation, random)
        if made is not None:
            found.append(made)
    return found


def _kinds(expectation: Expectation) -> dict[Kind, float]:
    absent: set[Kind] = set()
    if expectation.reading is None:
        absent |= {"reading"}
    if not expectation.choices:
        absent |= {"finding"}
    if not expectation.checks:
        absent |= {"check"}
    if absent >= {"reading", "finding"} and not (expectation.corrects or expectation.corrects_choices):
        absent |= {"correction"}
    return {kind: share for kind, share in _SHARE.items() if kind not in absent}


def _one(kind: Kind, expectation: Expectation, random: Random) -> Sentence | None:
    if kind == "check":
        phrase = random.choice(check_phrases(expectation))
        walk = _Walk(random, lookup(expectation), None)
        span = Span("check", phrase.tag.removeprefix("check "))
        walk.root.inner.append(span)
        walk.root.words = phrase.words.split()
        return _sentence(kind, walk.root, expectation)
    walk = _Walk(random, lookup(expectation), expectation.reading)
    rule = {
        "reading": "state.readings",
        "finding": "state.choice",
        "command": "commands.command",
        "correction": f"corrections.{random.choice(_correcting(expectation))}",
    }[kind]
    try:
        walk.go(Ref(rule), "state@now")
    except _DeadEndError:
        return None
    if kind == "correction" and not any(span.kind == "correct" for span in walk.root.inner):
        return None
    if kind == "correction" and rule.endswith("earlier") and expectation.reading and _without_number(walk.root):
        return None  # "no, nothing at all" may be about either question
    expected = expectation.corrects if any(span.kind == "before" for span in walk.root.inner) else expectation.reading
    if expected is not None and not _fill(walk.root, expected, random):
        return None
    return _sentence(kind, walk.root, expectation)


def _without_number(root: Span) -> bool:
    """Whether the sentence reads off no number at all."""
    return _SLOT not in root.words


def _correcting(expectation: Expectation) -> list[str]:
    """The rules of grammars/corrections.jsgf that this state can use."""
    return [
        "again",
        *(["reading"] if expectation.reading else []),
        *(["choice"] if expectation.choices else []),
        *(["earlier"] if expectation.corrects or expectation.corrects_choices else []),
    ]


def _sentence(kind: Kind, root: Span, expectation: Expectation) -> Sentence | None:
    """The sentence of a finished walk; None when its meaning is not certain."""
    told: list[Sense] = senses(Parse(0.0, " ".join(root.words), tuple(root.inner), ()), expectation)
    if not told:
        return None
    told.sort(key=lambda sense: sense.cost)
    certain = not told[0].doubt and (len(told) == 1 or told[1].cost - told[0].cost > 2)
    return Sentence(" ".join(root.words), told[0].meaning, kind) if certain else None


def _fill(root: Span, expected: ReadingExpectation, random: Random) -> bool:
    """Puts a number into every open slot; False when a unit that was drawn cannot show a plausible value."""
    for item in _items(root):
        special = item.all("special")
        holder = special[0] if special else item
        said = [span for span in holder.inner if span.kind in ("number", "low", "high")]
        if not any(_SLOT in span.words for span in said):
            continue
        symbols = [span.name for span in holder.all("unit") if span.name != "degrees"]
        words = _drawn(said, symbols[0] if symbols else expected.unit, expected, random)
        if words is None:
            return False
        for span, text in zip(said, words, strict=True):
            span.words = text.split()
        flat = iter(words)
        item.words = [one for word in item.words for one in (next(flat).split() if word == _SLOT else [word])]
    root.words = _flattened(root)
    return True


def _flattened(root: Span) -> list[str]:
    """The root's words with each slot replaced by the words of its span, in order."""
    numbers_said = iter([span.words for item in _items(root) for span in _number_spans(item)])
    return [one for word in root.words for one in (next(numbers_said) if word == _SLOT else [word])]


def _items(root: Span) -> list[Span]:
    """The readings of a sentence, those of a corrected question included."""
    inside = [inner for span in root.inner for inner in (span.inner if span.kind == "before" else [span])]
    return [span for span in inside if span.kind == "item"]


def _number_spans(item: Span) -> list[Span]:
    holder = item.all("special")[0] if item.all("special") else item
    spans = [span for span in holder.inner if span.kind in ("number", "low", "high")]
    return [] if item.all("tail") else spans


def _drawn(said: list[Span], symbol: str, expected: ReadingExpectation, random: Random) -> list[str] | None:
    """Words for the numbers of one item: a reading, the two ends of an unsteady one, or two units together."""
    first = _value(symbol, expected, random)
    if first is None:
        return None
    if len(said) == 1:
        return [random.choice(numbers.forms(first))]
    if said[0].kind == "low":
        second = _literal(float(first) * random.uniform(1.02, 1.3))
        plain = [[form for form in numbers.forms(text) if _plain(form)] for text in (first, second)]
        return [random.choice(forms) for forms in plain] if all(plain) and float(first) > 0 else None
    whole = str(max(1, int(abs(float(first)))))
    return [numbers.say(whole), numbers.say(str(random.randint(1, 11)))]


def _plain(form: str) -> bool:
    return not {"hundred", "thousand", "and", "minus", "negative", "half", "quarter"} & set(form.split())


def _value(symbol: str, expected: ReadingExpectation, random: Random) -> str | None:
    """A plausible value in ``symbol`` as a meter would show it: at most four digits; None when it shows none."""
    low, high = (units.from_canonical(end, symbol, expected.quantity) for end in expected.plausible)
    low, high = sorted((low, high))
    high = min(high, 99_999.0)
    if low >= high or abs(high) < 0.01:
        return None
    near_zero = max(low, high / 1000) if high > 0 else low
    value = near_zero * (high / near_zero) ** random.random() if near_zero > 0 else random.uniform(low, high)
    if low < 0 and random.random() < 0.25:
        value = random.uniform(max(low, -9999.0), 0)
    literal = _literal(value)
    return literal if low <= float(literal) <= high else None


def _literal(value: float) -> str:
    """Three or four digits, as on a display; whole numbers from a hundred up."""
    text = f"{value:.0f}" if abs(value) >= 100 else f"{value:.1f}" if abs(value) >= 10 else f"{value:.2f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
