"""Names in free words: spelt letter by letter, and the make and model of a unit."""

from __future__ import annotations

import re

from assistant.language.number_words import DIGITS

#: The spelling alphabet of ICAO Annex 10 and ITU Radio Regulations, appendix 14 (from memory).
_ALPHABET = (
    "alfa bravo charlie delta echo foxtrot golf hotel india juliett kilo lima mike november oscar papa quebec romeo "
    "sierra tango uniform victor whiskey xray yankee zulu"
)
_LETTERS = {word: word[0] for word in _ALPHABET.split()} | {"alpha": "a", "juliet": "j", "x-ray": "x"}
_BREAKS = {"space", "blank", "dash"}
#: Fewer letters are no spelling.
_LEAST = 3


def spelt(words: str) -> str:
    """The name that was spelt ("b a k e r y" is "Bakery"), or "" where the words are no spelling."""
    found: list[str] = []
    letters = 0
    for word in words.lower().replace(".", " ").replace(",", " ").replace("-", " ").split():
        if word in _BREAKS:
            found.append(" ")
        elif len(word) == 1 and word.isalnum():
            found.append(word)
            letters += 1
        elif word in _LETTERS:
            found.append(_LETTERS[word])
            letters += 1
        else:
            return ""
    return " ".join(part.capitalize() for part in "".join(found).split()) if letters >= _LEAST else ""


#: Digits as they are told one by one; "oh" is how most people tell a nought among them.
_DIGITS = {word: str(digit) for digit, word in enumerate(DIGITS)}
_DIGITS |= {"oh": "0", "nought": "0", "niner": "9"}
_TIMES = {"double": 2, "triple": 3}
#: What may stand before a serial number.
_NUMBER_LEADS = re.compile(
    r"(?:it's|it is|(?:the )?serial(?: number)?(?: is)?|(?:the )?number is|s ?/ ?n)[ :,]+", re.IGNORECASE
)


def serial_number(words: str) -> str:
    """A serial number as it is written, from one that was told sign by sign or written: "KB81142".

    What is told as words otherwise stands as it is, without its blanks.
    """
    said = _NUMBER_LEADS.sub("", words.strip().rstrip("."), count=1)
    signs: list[str] = []
    times = 1
    for word in said.lower().replace(",", " ").split():
        if word in _TIMES:
            times = _TIMES[word]
            continue
        sign = _DIGITS.get(word) or _LETTERS.get(word) or ("-" if word in ("dash", "hyphen") else word)
        signs.append(sign * times)
        times = 1
    if any(len(sign) > 1 and not any(each.isdigit() for each in sign) for sign in signs):
        return re.sub(r"\s+", "", said).upper()
    return "".join(signs).upper()


#: What may stand before a unit's name.
_LEAD = re.compile(r"(?:(?:it is|it's|its|this is|that's|we've got) )?(?:an?|the) ", re.IGNORECASE)


def without_lead(words: str) -> str:
    """A unit's name without "it's a" and the like before it."""
    lead = _LEAD.match(words)
    return words[lead.end() :] if lead is not None else words


def make_and_model(words: str) -> tuple[str, str]:
    """The first word is the make, the rest the model: "it's a Nordwind NW-12"."""
    make, _, model = without_lead(words.strip()).partition(" ")
    return make.strip(" ,"), model.strip(" ,")
