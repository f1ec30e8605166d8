"""The word lattice of an utterance: every string of grammar words that the written words may stand for."""

from __future__ import annotations

from dataclasses import dataclass, field

from assistant.language import soundalikes
from assistant.language.numbers import DIGITS, NUMBER_WORDS
from assistant.language.written import ABBREVIATIONS, Token, spoken_ways, tokens

#: Said between the words that matter; passed over without a doubt.
FILLERS = frozenset(
    {"uh", "um", "er", "ah", "hmm", "okay", "ok", "well", "so", "alright", "the", "now", "about", "roughly", "and"}
    | {"approximately", "around", "exactly", "please", "thanks"}
)
#: So ends the note of a word that was passed over.
NOT_UNDERSTOOD = "was not understood"
#: Passing over one of these would turn the meaning round.
NEVER_SKIPPED = frozenset(
    {"not", "isn't", "wasn't", "don't", "doesn't", "never", "without", "or", "if", "except", "than", "minus", "no"}
    | {"negative"}
)

COST_SAME_SOUND = 0.5
COST_NEAR_SOUND = 3.0
COST_ABBREVIATION = 0.2
COST_SPELLED = 0.6
COST_OTHER_FORM = 0.4
#: Numerals read figure by figure: seldom meant by who writes them together, but it is how places run into readings.
COST_FIGURES = 1.8
COST_TO_IN_DIGITS = 0.3
COST_POINT_APART = 1.0
COST_POINT_IN_MONEY = 1.2
COST_FILLER = 0.7
COST_SKIPPED = 4.0


@dataclass(frozen=True)
class Edge:
    """One word between two nodes; ``word`` None when the written word is passed over.

    ``note`` is a doubt to tell if this edge is used; ``stop`` the punctuation before it; ``swapped`` the written
    word where another of the same sound was taken.
    """

    to: int
    word: str | None
    cost: float
    note: str = ""
    stop: str = ""
    swapped: str = ""


@dataclass
class Lattice:
    """``edges[node]`` lead to higher nodes; node 0 is the start, ``end`` the last."""

    edges: list[list[Edge]] = field(default_factory=lambda: [[]])
    end: int = 0

    def node(self) -> int:
        self.edges.append([])
        return len(self.edges) - 1


def lattice(text: str, loose: bool = False) -> Lattice:
    """The lattice of ``text``. With ``loose``, near sounds may stand for words and unknown words may be passed over."""
    row = tokens(text)
    made = Lattice()
    # Nodes must rise along every path, so the joints between tokens are numbered after what lies between them:
    # ways are collected first and laid out token by token.
    joints = [0]
    later: list[list[tuple[int, str, float, str]]] = [[] for _ in range(len(row) + 1)]
    for at, token in enumerate(row):
        start = joints[at]
        pending: list[tuple[int, Edge]] = []
        ways = _ways(token, loose)
        _lay_all(made, pending, start, ways, token.stop)
        if token.stop == "-" and at:
            _lay_all(made, pending, _said(made, start, "to", COST_TO_IN_DIGITS), ways, "")
        if at and _point_apart(row[at - 1], token):
            note = "the point may have been a pause"
            _lay_all(made, pending, _said(made, start, "point", COST_POINT_APART, note), ways, "")
        if _skippable(token, loose):
            filler = token.text in FILLERS and not _digit_lost(row, at)
            note = "" if filler else f'"{token.text}" {NOT_UNDERSTOOD}'
            pending.append((start, Edge(-1, None, COST_FILLER if filler else COST_SKIPPED, note, token.stop)))
        if at + 1 < len(row) and row[at + 1].stop in ("", "-") and token.kind == row[at + 1].kind == "word":
            pair = f"{token.text} {row[at + 1].text}"
            for word in soundalikes.shipped().same.get(pair, ()):
                later[at + 2].append((start, word, COST_SAME_SOUND, token.stop))
        joint = made.node()
        for begin, edge in pending:
            made.edges[begin].append(Edge(joint, edge.word, edge.cost, edge.note, edge.stop, edge.swapped))
        for begin, word, cost, stop in later[at + 1]:
            made.edges[begin].append(Edge(joint, word, cost, stop=stop))
        joints.append(joint)
    made.end = joints[-1]
    return made


_Way = tuple[list[str], float, str, str]


def _point_apart(before: Token, token: Token) -> bool:
    """Whether "1. 07" may be one number, as it would stand on a display of five figures at most."""
    whole = token.stop == "." and before.kind == token.kind == "number"
    return whole and (before.text + token.text).isdigit() and len(before.text + token.text) <= 5


def _digit_lost(row: list[Token], at: int) -> bool:
    """Whether an "and" that the grammar has no place for stands where a digit was misheard.

    "3.8 and kilohms" was "three point eight nine kilohms", "point and one" was "point oh one".
    """
    before = row[at - 1] if at else None
    return row[at].text == "and" and before is not None and (before.kind == "number" or before.text in NUMBER_WORDS)


def _said(made: Lattice, start: int, word: str, cost: float, note: str = "") -> int:
    """ "1-2" is also "one to two", and "1. 07" also "one point zero seven": the node after the word so written."""
    after = made.node()
    made.edges[start].append(Edge(after, word, cost, note))
    return after


def _lay_all(made: Lattice, pending: list[tuple[int, Edge]], start: int, ways: list[_Way], stop: str) -> None:
    for words, cost, note, swapped in ways:
        _lay(made, pending, start, words, cost, note, swapped, stop)


def _lay(
    made: Lattice,
    pending: list[tuple[int, Edge]],
    start: int,
    words: list[str],
    cost: float,
    note: str,
    swapped: str,
    stop: str,
) -> None:
    """Lays one string of words from ``start``; its last edge waits in ``pending`` for the joint's number."""
    at = start
    for index, word in enumerate(words):
        edge = Edge(-1, word, cost if index == 0 else 0.0, note, stop if index == 0 else "", swapped)
        same = [edge]
        if word == "two" and len(words) > 1:
            same.append(Edge(-1, "to", edge.cost + COST_TO_IN_DIGITS, note, edge.stop, "2"))
        if index + 1 == len(words):
            pending += [(at, one) for one in same]
            return
        following = made.node()
        made.edges[at] += [Edge(following, one.word, one.cost, one.note, one.stop, one.swapped) for one in same]
        at = following


def _ways(token: Token, loose: bool) -> list[_Way]:
    """(words, cost, note, swapped) for one token."""
    if token.kind != "word":
        found = [(words, _form_cost(index, words), "", "") for index, words in enumerate(spoken_ways(token))]
        if token.kind == "money":  # written for a pair like "four twenty", seldom for a point that was said
            found = [(words, COST_POINT_IN_MONEY if at else 0.0, "", "") for at, (words, *_) in enumerate(found)]
        if token.text == "2":
            found.append((["to"], COST_SAME_SOUND, "", "2"))
        if token.text == "4":
            found.append((["for"], COST_SAME_SOUND, "", "4"))
        return found
    text = token.text
    found = [([text], 0.0, "", "")]
    if text in ABBREVIATIONS and not (len(text) == 1 and token.stop in (",", ".", ";")):
        found.append((ABBREVIATIONS[text].split(), COST_ABBREVIATION, "", ""))
    table = soundalikes.shipped()
    found += [([word], COST_SAME_SOUND, "", text) for word in table.same.get(text, ())]
    if 2 <= len(text) <= 4 and "'" not in text:
        found.append((["oh" if letter == "o" else letter for letter in text], COST_SPELLED, "", ""))
    if loose:
        found += [
            ([word], COST_NEAR_SOUND, f'"{text}" was taken for "{word}"', text) for word in table.near.get(text, ())
        ]
    return found


_FIGURES = frozenset({*DIGITS, "oh"})


def _form_cost(index: int, words: list[str]) -> float:
    """The plainest form is free; "240" as "two forty" costs little, as "two four zero" more."""
    if index == 0:
        return 0.0
    figures = 0
    for word in words:
        figures = figures + 1 if word in _FIGURES and words[0] in _FIGURES else 0
        if word == "point":
            break
        if figures >= 2:
            return COST_FIGURES
    return COST_OTHER_FORM


def _skippable(token: Token, loose: bool) -> bool:
    if token.kind != "word" or token.text in NUMBER_WORDS or token.text in NEVER_SKIPPED:
        return False
    return loose or token.text in FILLERS
