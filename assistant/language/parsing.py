"""Finds the best ways through a state's automaton for a word lattice, and the tagged spans along each."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from assistant.language.automaton import Automaton, Marks
from assistant.language.lattice import Edge, Lattice
from assistant.language.numbers import DIGITS, NUMBER_WORDS

#: Ways kept at each node and state, and ways returned: readings in a row can be cut in many places.
KEEP, RETURN = 8, 60
COST_STOP_IN_NUMBER = 1.5


@dataclass
class Span:
    """The words that a tag covers: ``kind`` is the tag's first word, ``name`` the rest."""

    kind: str
    name: str
    words: list[str] = field(default_factory=list)
    inner: list[Span] = field(default_factory=list)

    def all(self, kind: str) -> list[Span]:
        """The spans of this kind directly inside."""
        return [span for span in self.inner if span.kind == kind]


@dataclass(frozen=True)
class Parse:
    """One way: its cost, the words as the grammar has them, the spans, and what is doubtful about it."""

    cost: float
    words: str
    spans: tuple[Span, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True)
class _Step:
    """One word of a way, linked to the step before it."""

    before: _Step | None
    edge: Edge
    marks: Marks
    note: str


_Way = tuple[float, _Step | None]


def parse(automata: Iterable[Automaton], lattice: Lattice, keep: int = KEEP) -> list[Parse]:
    """The cheapest ways through any of ``automata`` that take the whole lattice, best first; empty when none does.

    ``keep`` ways are followed at each node and state: more when every spelling is wanted, not only the meaning.
    """
    done = [way for automaton in automata for way in _ways(automaton, lattice, keep)]
    done.sort(key=lambda one: one[0])
    return [_told(cost, step, marks) for cost, step, marks in done[:RETURN]]


def _ways(automaton: Automaton, lattice: Lattice, keep: int) -> list[tuple[float, _Step | None, Marks]]:
    at: list[dict[int, list[_Way]]] = [{} for _ in lattice.edges]
    at[0] = {automaton.start: [(0.0, None)]}
    for node in range(len(lattice.edges)):
        for state, ways in at[node].items():
            best = sorted(ways, key=lambda way: way[0])[:keep]
            at[node][state] = best
            for edge in lattice.edges[node]:
                _follow(automaton, state, edge, best, at[edge.to])
    done: list[tuple[float, _Step | None, Marks]] = []
    for state, ways in at[lattice.end].items():
        for marks, cost in automaton.finals(state):
            done += [(way_cost + cost, step, marks) for way_cost, step in ways if step is not None]
    return done


def _follow(automaton: Automaton, state: int, edge: Edge, ways: list[_Way], there: dict[int, list[_Way]]) -> None:
    if edge.word is None:
        passed: list[_Way] = [(cost + edge.cost, _Step(step, edge, (), edge.note)) for cost, step in ways]
        there.setdefault(state, []).extend(passed)
        return
    for arc in automaton.arcs(state).get(edge.word, ()):
        for cost, step in ways:
            more, note = _stop_cost(step, edge, arc.marks)
            note = note or edge.note
            there.setdefault(arc.to, []).append(
                (cost + edge.cost + arc.cost + more, _Step(step, edge, arc.marks, note))
            )


_SINGLE = frozenset({*DIGITS, "oh"})


def _stop_cost(step: _Step | None, edge: Edge, marks: Marks) -> tuple[float, str]:
    """Punctuation inside one number is unlikely; only between single digits is a comma harmless."""
    if not edge.stop or marks or step is None or edge.word not in NUMBER_WORDS or step.edge.word not in NUMBER_WORDS:
        return 0.0, ""
    if edge.stop == "-":
        return 0.0, ""
    harmless = edge.stop == "," and edge.word in _SINGLE and step.edge.word in _SINGLE
    return COST_STOP_IN_NUMBER, "" if harmless else "there was a pause inside the number"


def _told(cost: float, last: _Step | None, final: Marks) -> Parse:
    steps: list[_Step] = []
    step = last
    while step is not None:
        steps.append(step)
        step = step.before
    steps.reverse()
    root = Span("", "")
    open_spans = [root]
    words: list[str] = []
    notes: list[str] = []
    for one in steps:
        _mark(open_spans, one.marks)
        if one.edge.word is not None:
            words.append(one.edge.word)
            for span in open_spans:
                span.words.append(one.edge.word)
        if one.note and one.note not in notes:
            notes.append(one.note)
    _mark(open_spans, final)
    notes += [note for note in [_doubtful_to(steps)] if note]
    return Parse(cost, " ".join(words), tuple(root.inner), tuple(notes))


def _mark(open_spans: list[Span], marks: Marks) -> None:
    for mark in marks:
        if mark.opens:
            kind, _, name = mark.tag.partition(" ")
            span = Span(kind, name)
            open_spans[-1].inner.append(span)
            open_spans.append(span)
        else:
            open_spans.pop()


def _doubtful_to(steps: list[_Step]) -> str:
    """ "to" written between two numbers and taken for "two": it may have joined the two ends of something."""
    for before, here, after in zip(steps, steps[1:], steps[2:], strict=False):
        if here.edge.word == "two" and here.edge.swapped == "to":
            near = (before.edge.word, after.edge.word)
            if all(word in NUMBER_WORDS and word != "point" for word in near):
                return '"to" was taken for "two"'
    return ""
