"""Turns the words of any ear, or of the keyboard, into what they mean in the present state."""

from __future__ import annotations

from rapidfuzz import fuzz

from assistant.language.answers import Sense, senses
from assistant.language.closeness import near_phrases
from assistant.language.compare import meaning_key
from assistant.language.lattice import lattice
from assistant.language.ledger import free_entry
from assistant.language.meaning import (
    Command,
    Correction,
    Expectation,
    Finding,
    Indication,
    Interpretation,
    LedgerSaid,
    Meaning,
    Readings,
    Text,
)
from assistant.language.number_words import NUMBER_WORDS
from assistant.language.parsing import Parse, parse
from assistant.language.state import Phrase, automata, check_phrases, closed_phrases
from assistant.language.written import Token, as_words, tokens

#: Other meanings within this cost of the best are alternatives, and make the best doubtful.
RIVAL = 1.6
#: More pauses than this are no answer that was said twice or place by place.
MOST_PIECES = 8
#: So a sentence begins that may nearly be a "check the ...", and how like (of 100) its first word must be to one.
_BEGINS_A_CHECK = ("check", "test", "look", "go", "do", "let's", "let", "i", "take", "can", "we", "try")
_LIKE = 75
#: A command among free words must be said as it is written.
TEXT_COMMAND_COST = 0.6


def interpret(words: str, expectation: Expectation, loose: bool = False) -> Interpretation:
    """What ``words`` mean in the state of ``expectation``.

    ``words`` may be grammar words or written text with numerals, signs and punctuation. With ``loose``, words that
    sound nearly like number words are taken for them and unknown words are passed over, each with a doubt: for
    an ear whose words another ear judges. ``meaning`` is None when nothing fitted; a near miss on a closed phrase
    comes back with a doubt.
    """
    if not tokens(words):
        return Interpretation(words=words, meaning=None)
    noted = free_entry(words, expectation)
    if noted is not None:
        return Interpretation(words=words, meaning=noted)
    found = _ranked(words, expectation, loose)
    if expectation.text and expectation.reading is None:
        return _free(words, expectation, found)
    pieces, again = _piecewise(words, expectation, loose)
    if found and not found[0].doubt:
        return _told_twice(words, found, pieces if again else None)
    if pieces is not None and not (found and (pieces.doubt or _one_number(found[0]))):
        return pieces
    if found:
        return _told(words, found)
    near = _near(words, expectation)
    if near is not None:
        return near
    if expectation.text:
        return Interpretation(words=words, meaning=Text(words=words.strip()))
    return Interpretation(words=words, meaning=None)


def best_parse(words: str, expectation: Expectation, loose: bool = False) -> Parse | None:
    """The parse whose meaning is the likeliest, or None."""
    ranked: list[tuple[float, Parse]] = []
    for one in parse(automata(expectation), lattice(words, loose)):
        ranked += [(sense.cost, one) for sense in senses(one, expectation)]
    return min(ranked, key=lambda pair: pair[0])[1] if ranked else None


def _ranked(words: str, expectation: Expectation, loose: bool) -> list[Sense]:
    """Distinct meanings, the likeliest first."""
    best: dict[tuple[object, ...], Sense] = {}
    for one in parse(automata(expectation), lattice(words, loose)):
        for sense in senses(one, expectation):
            key = meaning_key(sense.meaning)
            if key not in best or sense.cost < best[key].cost:
                best[key] = sense
    return sorted(best.values(), key=lambda sense: sense.cost)


_TWICE = "It may have been said twice."
#: Said of one number, and not of one said twice.
_WHOLE = frozenset({"hundred", "thousand", "million", "point"})


def _is_doubled(words: str, meaning: Meaning) -> bool:
    """A number of twice the same digits, said in two ways: "forty eight, four eight" may be 48 and not 4,848."""
    if not isinstance(meaning, Readings) or len(meaning.items) != 1 or meaning.items[0].spoken_value is None:
        return False
    digits = f"{abs(meaning.items[0].spoken_value):.10g}"
    half = len(digits) // 2
    if not digits.isdigit() or half < 2 or digits[:half] != digits[half:] or any(sign.isdigit() for sign in words):
        return False
    said = [word for word in as_words(words).split() if word in NUMBER_WORDS]
    return _WHOLE.isdisjoint(said) and said[: len(said) // 2] != said[len(said) // 2 :]


def _told(words: str, found: list[Sense]) -> Interpretation:
    first = found[0]
    rivals = [sense for sense in found[1:] if sense.cost - first.cost < RIVAL and _rivals(sense, first)]
    doubt = first.doubt or (_TWICE if _is_doubled(words, first.meaning) else "")
    if rivals and not doubt:
        doubt = next((sense.doubt for sense in rivals if sense.doubt), "") or f'"{words.strip()}" can mean two things.'
    meaning = first.meaning.model_copy(update={"words": words}) if isinstance(first.meaning, Text) else first.meaning
    return Interpretation(
        words=words, meaning=meaning, alternatives=tuple(sense.meaning for sense in rivals[:4]), doubt=doubt
    )


def _told_twice(words: str, found: list[Sense], pieces: Interpretation | None) -> Interpretation:
    """The best sense, doubtful when its pieces alone all mean one other thing: "5, 5 volts" is 55, or 5 said twice."""
    told = _told(words, found)
    other = pieces.meaning if pieces is not None else None
    if other is None or told.doubt or meaning_key(other) == meaning_key(told.meaning):
        return told
    return told.model_copy(update={"doubt": _TWICE, "alternatives": (other, *told.alternatives)})


def _one_number(sense: Sense) -> bool:
    """ "5. 5 volts" may be 5.5 as well as 5 said twice: that is to be asked."""
    return "may have been a pause" in sense.doubt


def _rivals(sense: Sense, first: Sense) -> bool:
    """An answer does not become doubtful because a command has the same words, nor the other way round."""
    return isinstance(sense.meaning, Command) == isinstance(first.meaning, Command)


def _free(words: str, expectation: Expectation, found: list[Sense]) -> Interpretation:
    """In a state that asks for free words, only what is exactly a command or a choice is more than text."""
    if found and not found[0].doubt and (found[0].cost <= TEXT_COMMAND_COST or _is_entry(found[0].meaning)):
        return _told(words, found[:1])
    corrected = _corrected_text(words)
    if corrected is not None:
        return Interpretation(words=words, meaning=Correction(meaning=Text(words=corrected)))
    return Interpretation(words=words, meaning=Text(words=words.strip()))


def _is_entry(meaning: Meaning) -> bool:
    """An entry of the ledger begins with its own word, and is no name."""
    return isinstance(meaning, LedgerSaid)


def _corrected_text(words: str) -> str | None:
    """What follows "correction" in free words."""
    head, _, rest = words.strip().partition(" ")
    return rest.strip() if head.lower().rstrip(",.:;") == "correction" and rest.strip() else None


def _piecewise(words: str, expectation: Expectation, loose: bool) -> tuple[Interpretation | None, bool]:
    """What the pieces between pauses mean when each alone makes sense, and whether they are one thing said again."""
    pieces = _pieces(words)
    if not 2 <= len(pieces) <= MOST_PIECES:
        return None, False
    each = [_ranked(piece, expectation, loose)[:1] for piece in pieces]
    if not all(each):
        return None, False
    first = [sense[0] for sense in each]
    if len({meaning_key(sense.meaning) for sense in first}) == 1:
        return Interpretation(words=words, meaning=first[0].meaning, doubt=first[0].doubt), True
    joined = _joined_readings([sense.meaning for sense in first], expectation)
    if joined is None:
        return None, False
    doubts = [sense.doubt for sense in first if sense.doubt and "where that was read" not in sense.doubt]
    return Interpretation(words=words, meaning=joined, doubt=doubts[0] if doubts else ""), False


def _pieces(words: str) -> list[str]:
    """The text between commas and stops, as grammar words."""
    found: list[list[Token]] = []
    for token in tokens(words):
        if token.stop in (",", ".", ";", ":") or not found:
            found.append([])
        found[-1].append(token)
    return [" ".join(token.text for token in piece) for piece in found]


def _joined_readings(meanings: list[Meaning], expectation: Expectation) -> Readings | None:
    """As many bare readings as places were asked, in the order asked; or each with its own place."""
    if expectation.reading is None or len(expectation.reading.places) < 2:
        return None
    items = [item for meaning in meanings if isinstance(meaning, Readings) for item in meaning.items]
    if len(items) != len(meanings):
        return None
    places = [place.id for place in expectation.reading.places]
    named = [item.place for item in items]
    if not any(named) and len(named) == len(places):
        placed = [item.model_copy(update={"place": place}) for item, place in zip(items, places, strict=True)]
        return Readings(items=tuple(placed))
    return Readings(items=tuple(items)) if None not in named and len(set(named)) == len(named) else None


def _near(words: str, expectation: Expectation) -> Interpretation | None:
    """A near miss on an answer, a command or a "check the ...": told as a doubt."""
    spoken = as_words(words)
    named = check_phrases(expectation)
    if not _asks_for_a_check(spoken):  # "prove it dead" is a name of its own
        named = tuple(phrase for phrase in named if phrase.words.removeprefix("check ") == spoken)
    near = near_phrases(spoken, closed_phrases(expectation) + named)
    if not near:
        return None
    meanings = [_phrase_meaning(phrase, expectation) for phrase in near]
    doubt = f'"{words.strip()}" is not quite "{near[0].words}".'
    return Interpretation(words=words, meaning=meanings[0], alternatives=tuple(meanings[1:]), doubt=doubt)


def _asks_for_a_check(spoken: str) -> bool:
    """Whether the words may nearly be a "check the ...": they begin as one, if misspelt."""
    first = spoken.partition(" ")[0]
    return max((fuzz.ratio(first, known) for known in _BEGINS_A_CHECK), default=0.0) >= _LIKE


def _phrase_meaning(phrase: Phrase, expectation: Expectation) -> Meaning:
    kind, _, name = phrase.tag.partition(" ")
    if kind == "command":
        return Command(name=name)
    if kind == "check":
        return Command(name="check", argument=name)
    return Indication(choice=name) if expectation.choice_kind == "indication" else Finding(choice=name)
