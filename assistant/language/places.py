"""The ways to name a place, grown from the phrases that the question gives.

"u to v" is also "u v" where that is a phrase, "between u and v", "pin u to pin v"; and where direction means
nothing, "v to u". "ground" is also "earth" or "chassis". A place that is named by a bare number ("two") must be
said as "number two", else nobody could tell it from the reading.
"""

from __future__ import annotations

from assistant.language import numbers
from assistant.language.jsgf import Alt, Expansion, Ref, Repeat, Seq, Tagged, Word
from assistant.language.meaning import Choice, Quantity
from assistant.language.written import as_words

#: Quantities that read the same with the probes exchanged.
EITHER_WAY: tuple[Quantity, ...] = ("resistance", "voltage_ac", "capacitance")


def _side(text: str) -> Expansion:
    return Seq(tuple(Ref("places.ground") if word == "ground" else Word(word) for word in text.split()))


def _ends(phrase: str) -> tuple[str, str] | None:
    """The two ends of "a to b", else None."""
    left, joint, right = phrase.partition(" to ")
    return (left, right) if joint else None


def is_bare_number(phrase: str) -> bool:
    """Whether a place's phrase could be a reading."""
    return numbers.parse(phrase) is not None


def _said(phrase: str) -> Expansion:
    if is_bare_number(phrase):
        return Seq((Ref("places.numbered"), _side(phrase)))
    ends = _ends(phrase)
    middle = _side(phrase)
    if ends:
        joint = "joint" if ends[1].split()[0] in numbers.NUMBER_WORDS else "lost-joint"
        middle = Seq((_side(ends[0]), Ref(f"places.{joint}"), _side(ends[1])))
    return Seq((Repeat(Ref("places.before"), least=0, many=False), middle))


def all_phrases(places: tuple[Choice, ...], quantity: Quantity) -> dict[str, tuple[str, ...]]:
    """Place id -> its phrases, with the exchanged ones added where they mean the same and clash with no other."""
    taken = {phrase for place in places for phrase in map(as_words, place.phrases)}
    found: dict[str, tuple[str, ...]] = {}
    for place in places:
        phrases = list(map(as_words, place.phrases))
        for ends in filter(None, map(_ends, phrases.copy())):
            swapped = f"{ends[1]} to {ends[0]}"
            if quantity in EITHER_WAY and swapped not in taken:
                phrases.append(swapped)
                taken.add(swapped)
        found[place.id] = tuple(dict.fromkeys(phrases))
    return found


def expansion(places: tuple[Choice, ...], quantity: Quantity) -> Expansion:
    """The rule <state.place>: each place tagged with its id."""
    phrases = all_phrases(places, quantity)
    return Alt(
        tuple(
            (1.0, Tagged(Alt(tuple((1.0, _said(phrase)) for phrase in said)), f"place {place}"))
            for place, said in phrases.items()
        )
    )
