"""From a reply as it is written to the words a person would say, and how long they take to say.

A reply is written for the eye ("U–V 4.2 kΩ, 15 °C"); ``spoken`` turns it into words alone, so that every
voice says the same. The letter's name of A is written "ay", because voices take a lone "A" for the article.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from assistant.speaking import numbers
from assistant.speaking.units import SPELLINGS, is_printed, spoken_unit

_UNIT = "|".join(re.escape(spelling) for spelling in SPELLINGS)
_NUMBER = r"\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+\.\d+|\d+|\.\d+"
_END = r"(?![A-Za-z0-9µμΩΩ°²³/·])"
_MINUS = r"(?:(?<![\w.)])[-−–])"
_FRACTION = r"(\d{1,2})\s*/\s*(2|3|4|8|16|32)(?![\d/.])"
_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3"}
_VULGAR |= {"⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
#: Terminals that are asked for in pairs: motor phases, the DC bus, the supply, and plain letters.
_TERMINAL = r"(?:[A-Z]\d?)"

#: Written shorthand of the trade that a person says in full.
_WORDS = {
    "EEV": "E E V",
    "LED": "L E D",
    "LEDs": "L E Ds",
    "IPM": "I P M",
    "IDU": "indoor unit",
    "ODU": "outdoor unit",
    "OL": "O L",
    "NTC": "N T C",
    "PSC": "P S C",
    "UVW": "U, V, W",
    "EEPROM": "E E prom",
    "e.g.": "for example",
    "i.e.": "that is",
    "vs": "versus",
    "approx.": "about",
    "no.": "number",
}
#: Refrigerants have names of their own in the trade: R410A is "R four ten A".
_REFRIGERANT = re.compile(r"\bR-?(\d{2,3})([A-Za-z]?)\b")
_SIGNS = {
    "±": " plus or minus ",
    "≤": " at most ",
    "≥": " at least ",
    "<": " below ",
    ">": " above ",
    "≈": " about ",
    "~": " about ",
    "=": " equals ",
    "×": " times ",
    "→": " to ",
    "&": " and ",
    "+": " plus ",
    "Δ": " delta ",
    "√": " root ",
    "²": " squared ",
}


def spoken(text: str) -> str:
    """The words of a reply, one space between them; commas and full stops stay as pauses.

    Numbers, units, signs, fractions, terminal pairs and codes become words; nothing is dropped that carries
    meaning. Pure and idempotent on text that is words already.
    """
    for rule in _RULES:
        text = rule(text)
    text = re.sub(r"\s+([,.;:?!])", r"\1", re.sub(r"\s+", " ", text))
    return text.lstrip(" ,").rstrip()


def _fractions(text: str) -> str:
    for sign, plain in _VULGAR.items():
        text = re.sub(rf"(\d)\s*{sign}", rf"\1 {plain}", text).replace(sign, plain)

    def whole_and_part(match: re.Match[str]) -> str:
        return numbers.mixed(int(match[1]), int(match[2]), int(match[3])) + " "

    def part(match: re.Match[str]) -> str:
        return numbers.fraction(int(match[1]), int(match[2])) + " "

    unit = rf"(?:\s*({_UNIT}){_END})?"

    def with_unit(read: Callable[[re.Match[str]], str], one: bool) -> Callable[[re.Match[str]], str]:
        return lambda match: read(match) + (spoken_unit(match[match.lastindex or 0], one) if _has_unit(match) else "")

    text = re.sub(rf"(?<![\d/.,])(\d{{1,3}})[ -]{_FRACTION}{unit}", with_unit(whole_and_part, False), text)
    return re.sub(rf"(?<![\d/.,]){_FRACTION}{unit}", with_unit(part, True), text)


def _has_unit(match: re.Match[str]) -> bool:
    return match[match.re.groups] is not None


def _clock(text: str) -> str:
    def read(match: re.Match[str]) -> str:
        hour, minute = int(match[1]), int(match[2])
        tail = (
            "hundred" if minute == 0 else f"oh {numbers.cardinal(minute)}" if minute < 10 else numbers.number(match[2])
        )
        return f"{numbers.cardinal(hour)} {tail}"

    return re.sub(r"(?<![\d:])([01]?\d|2[0-3]):([0-5]\d)(?![\d:])", read, text)


def _terminal_pairs(text: str) -> str:
    """ "U–V", "L1-L2", and pins "1-2" as pairs."""
    pair = rf"(?<![\w.-])({_TERMINAL}|\d)[-–]({_TERMINAL}|\d)(?![\w-])(?!\.\d)"

    def name(terminal: str) -> str:
        return terminal if terminal.isdigit() else _code(terminal)

    words = re.sub(pair, lambda match: f"{name(match[1])} to {name(match[2])}\x00", text)
    # A pause keeps the terminal's figure apart from the reading: "L one to L two, two three zero volts".
    return re.sub("\x00(?=\\s?[-−]?\\d)", ",", words).replace("\x00", "")


def _ranges(text: str) -> str:
    first = rf"((?<![\w.-])(?:{_NUMBER})(?:\s?(?:{_UNIT}))?)"
    return re.sub(rf"{first}(?:\s?(?:–|…|\.\.\.?)\s?|-)(?=[-−]?(?:{_NUMBER}))", r"\1 to ", text)


def _refrigerants(text: str) -> str:
    def read(match: re.Match[str]) -> str:
        figures, letter = match[1], match[2].upper()
        tail = f" {_letter(letter)}" if letter else ""
        if len(figures) == 2:
            return f"R {numbers.cardinal(int(figures))}{tail}"
        last = int(figures[1:])
        middle = f"oh {numbers.cardinal(last)}" if last < 10 else numbers.cardinal(last)
        return f"R {numbers.cardinal(int(figures[0]))} {middle}{tail}"

    return _REFRIGERANT.sub(read, text)


def _quantities(text: str) -> str:
    def read(match: re.Match[str]) -> str:
        article, sign, figure, unit, per = match.groups()
        plainly = unit and is_printed(unit) and _is_short(figure)
        said = numbers.cardinal(int(figure)) if plainly else numbers.number(figure)
        words = f"{article or ''} {'minus ' if sign else ''}{said}"
        if unit:
            # "a 5 A fuse" is a five amp fuse
            words += f" {spoken_unit(unit, figure == '1' or bool(article))}"
        return words + (f" per {spoken_unit(per, True)}" if per else "")

    text = re.sub(r"(?<=\d)\s?x\b", " times", text)
    unit = rf"(?:\s?({_UNIT})(?:/({_UNIT}))?{_END})?"
    return re.sub(rf"(\ban?\s)?({_MINUS})?(?<![A-Za-z\d.])({_NUMBER})(?!\d){unit}", read, text)


def _is_short(figure: str) -> bool:
    return figure.isdigit() and figure[0] != "0" and int(figure) < 1000


def _left_over(text: str) -> str:
    """Figures in no usual place ("v2"): by digits, so that none is dropped."""
    return re.sub(r"[0-9]+", lambda match: f" {numbers.digits(match[0])} ", text)


def _ordinals(text: str) -> str:
    return re.sub(r"\b(\d{1,3})(?:st|nd|rd|th)\b", lambda match: numbers.ordinal(int(match[1])), text)


def _codes(text: str) -> str:
    """Display texts, connectors and classes: a letter beside a figure is spelt out ("E4", "CN12", "A2L")."""
    code = r"(?<![\w.-])[A-Z]{1,6}-?\d[A-Z\d]{0,5}(?![\w])"
    return re.sub(code, lambda match: _code(match[0].replace("-", "")), text)


def _code(text: str) -> str:
    return " ".join(numbers.digits(sign) if sign.isdigit() else _letter(sign) for sign in text)


def _letter(letter: str) -> str:
    return "ay" if letter == "A" else letter


def _lone_units(text: str) -> str:
    """ "in kΩ" without a figure before it: only symbols that are no English word nor a terminal's letter."""
    symbols = "|".join(re.escape(s) for s in SPELLINGS if re.search(r"[Ωµμ°/·²³]", s) or s in _BARE)
    return re.sub(rf"(?<![\w])(?:{symbols}){_END}", lambda match: f" {spoken_unit(match[0], False)}", text)


_BARE = {"kPa", "MPa", "psi", "psig", "psia", "rpm", "Hz", "mA", "mV", "V DC", "V AC", "Vdc", "Vac", "%", "CFM"}


def _words(text: str) -> str:
    for written, said in _WORDS.items():
        text = re.sub(rf"(?<!\w){re.escape(written)}(?!\w)", said, text)
    return text


def _signs(text: str) -> str:
    for sign, said in _SIGNS.items():
        text = text.replace(sign, said)
    text = re.sub(r"\b(terminal|phase|leg|letter|class|lead|zone) A\b", r"\1 ay", text)
    text = re.sub(r"\s[-–—]\s|[—()\[\]“”\"*_]", ", ", text)
    text = re.sub(r"(?<=\w)[–/](?=\w)", " ", text).replace("’", "'")
    return re.sub(r",\s*(?=[,.;:?!])", "", re.sub(r"\s+,", ",", text))


_RULES: tuple[Callable[[str], str], ...] = (
    _fractions,
    _clock,
    _terminal_pairs,
    _ranges,
    _refrigerants,
    _ordinals,
    _codes,
    _quantities,
    _left_over,
    _lone_units,
    _words,
    _signs,
)


#: Seconds for each letter, word, inner pause (comma, colon, semicolon), full stop, and for the start. Fitted by least
#: squares to 600 of the knowledge folder's texts said by espeak-ng 1.51, en-us, WORDS_PER_MINUTE: error 5 % on
#: average, 25 % at worst. tests/benchmarks/speech_length.py fits them again.
_SECONDS = (0.047, 0.075, 0.28, 0.50, 0.05)
#: The pace for which the figures above hold, in espeak's words a minute; slower than its 175 for use in noise.
WORDS_PER_MINUTE = 170


def seconds(text: str, pace: float = 1.0) -> float:
    """How long ``text`` (as written) takes to say at ``pace`` (1.0 normal, 0.8 slower), in seconds."""
    return sum(each * count for each, count in zip(_SECONDS, counts(text), strict=True)) / pace


def counts(text: str) -> tuple[int, ...]:
    """What takes time in ``text``, in the order of _SECONDS."""
    said = spoken(text)
    words = re.findall(r"[A-Za-z']+", said)
    return (
        sum(map(len, words)),
        len(words),
        len(re.findall(r"[,;:](?=\s)", said)),
        len(re.findall(r"[.?!](?=\s)", said)),
        1 if words else 0,
    )
