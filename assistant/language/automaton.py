"""Expansion trees compiled to one tagged automaton, from which recognition and generation come.

Each arc eats one word. The marks before it say which tags open or close there, so that a path through the
automaton is also its parse. Costs are ``-ln(weight)`` of the grammar's weights, summed along a path.
States without a word between them are joined only when a search gets there: a state's language is large, and
an utterance touches little of it.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from assistant.language.jsgf import Alt, Expansion, Ref, Repeat, Seq, Tagged, Word

#: Finds the expansion of a reference: (name as written, asking grammar) -> (expansion, its grammar's name).
Lookup = Callable[[str, str], tuple[Expansion, str]]


@dataclass(frozen=True)
class Mark:
    """Where a tag's words begin (``opens``) or end."""

    tag: str
    opens: bool


Marks = tuple[Mark, ...]


@dataclass(frozen=True)
class Arc:
    """A way on by one word: the next state, the marks before the word, and the cost."""

    to: int
    marks: Marks
    cost: float


class Network:
    """Thompson's construction: every expansion stands between two states, with word arcs and empty arcs.

    Nothing inside an expansion leads back to its first state or on from its last, so neighbours may share them.
    """

    def __init__(self, lookup: Lookup) -> None:
        self.lookup = lookup
        self.word_arcs: list[list[tuple[str, int]]] = []
        self.empty_arcs: list[list[tuple[int, Mark | None, float]]] = []

    def state(self) -> int:
        self.word_arcs.append([])
        self.empty_arcs.append([])
        return len(self.word_arcs) - 1

    def empty(self, start: int, end: int, mark: Mark | None = None, cost: float = 0.0) -> None:
        self.empty_arcs[start].append((end, mark, cost))

    def build(self, what: Expansion, entry: int, end: int, grammar: str) -> None:
        """Adds ``what``, written in ``grammar``, between two states."""
        if isinstance(what, Word):
            self.word_arcs[entry].append((what.text, end))
        elif isinstance(what, Seq):
            self._sequence(what, entry, end, grammar)
        elif isinstance(what, Ref):
            self.reference(what.name, entry, end, grammar)
        elif isinstance(what, Alt):
            self._alternatives(what, entry, end, grammar)
        elif isinstance(what, Repeat):
            self._repeat(what, entry, end, grammar)
        else:
            self.tagged(what, entry, end, grammar)

    def reference(self, name: str, entry: int, end: int, grammar: str) -> None:
        expansion, home = self.lookup(name, grammar)
        self.build(expansion, entry, end, home)

    def tagged(self, what: Tagged, entry: int, end: int, grammar: str) -> None:
        begin, last = self.state(), self.state()
        self.empty(entry, begin, Mark(what.tag, True))
        self.build(what.item, begin, last, grammar)
        self.empty(last, end, Mark(what.tag, False))

    def _sequence(self, what: Seq, entry: int, end: int, grammar: str) -> None:
        if not what.items:
            self.empty(entry, end)
        separator = _separator(what)
        if separator is not None:
            self._list(what.items[-2], separator, what.items[:-2], entry, end, grammar)
            return
        for at, item in enumerate(what.items, start=1):
            after = end if at == len(what.items) else self.state()
            self.build(item, entry, after, grammar)
            entry = after

    def _list(
        self, item: Expansion, separator: Expansion, before: tuple[Expansion, ...], entry: int, end: int, grammar: str
    ) -> None:
        """ "x (s x)*" as one loop, so that x, which may be large, stands in the network once."""
        begin, last = self.state(), self.state()
        self.build(Seq(before), entry, begin, grammar)
        self.build(item, begin, last, grammar)
        self.build(separator, last, begin, grammar)
        self.empty(last, end)

    def _alternatives(self, what: Alt, entry: int, end: int, grammar: str) -> None:
        for weight, item in what.items:
            begin = entry
            if weight != 1.0:
                begin = self.state()
                self.empty(entry, begin, cost=-math.log(weight))
            self.build(item, begin, end, grammar)

    def _repeat(self, what: Repeat, entry: int, end: int, grammar: str) -> None:
        if not what.least:
            self.empty(entry, end)
        if not what.many:
            self.build(what.item, entry, end, grammar)
            return
        begin, last = self.state(), self.state()
        self.empty(entry, begin)
        self.build(what.item, begin, last, grammar)
        self.empty(last, begin)
        self.empty(last, end)


def _separator(what: Seq) -> Expansion | None:
    """The ``s`` of a sequence that ends in "x (s x)*"."""
    if len(what.items) < 2:
        return None
    item, more = what.items[-2:]
    if isinstance(more, Repeat) and more.many and not more.least and isinstance(more.item, Seq):
        *separator, again = more.item.items
        if again == item and separator:
            return Seq(tuple(separator))
    return None


class Automaton:
    """A network seen without its empty arcs, from ``start`` on."""

    def __init__(self, network: Network, start: int, end: int) -> None:
        self.start = start
        self._network, self._end = network, end
        self._known: dict[int, tuple[dict[str, list[Arc]], list[tuple[Marks, float]]]] = {}

    def arcs(self, state: int) -> dict[str, list[Arc]]:
        """The ways on from ``state`` by word."""
        return self._see(state)[0]

    def finals(self, state: int) -> list[tuple[Marks, float]]:
        """The marks that may close a string that ends in ``state``; empty when none may end there."""
        return self._see(state)[1]

    def _see(self, state: int) -> tuple[dict[str, list[Arc]], list[tuple[Marks, float]]]:
        if state not in self._known:
            arcs: dict[str, list[Arc]] = {}
            finals: list[tuple[Marks, float]] = []
            for near, marks, cost in self._closure(state):
                if near == self._end:
                    finals.append((marks, cost))
                for word, to in self._network.word_arcs[near]:
                    arcs.setdefault(word, []).append(Arc(to, marks, cost))
            self._known[state] = (arcs, finals)
        return self._known[state]

    def _closure(self, state: int) -> list[tuple[int, Marks, float]]:
        """Every state reached from ``state`` without a word, with the marks and the cost on the way.

        No state is passed twice on one way, so a loop of empty arcs ends.
        """
        found: list[tuple[int, Marks, float]] = []
        seen: set[tuple[int, Marks]] = set()
        stack: list[tuple[int, Marks, float, frozenset[int]]] = [(state, (), 0.0, frozenset())]
        while stack:
            at, marks, cost, passed = stack.pop()
            if (at, marks) in seen or at in passed:
                continue
            seen.add((at, marks))
            found.append((at, marks, cost))
            for to, mark, more in self._network.empty_arcs[at]:
                stack.append((to, marks if mark is None else (*marks, mark), cost + more, passed | {at}))
        return found


def compile_automaton(what: Expansion, grammar: str, lookup: Lookup) -> Automaton:
    """The automaton of ``what``, whose references are resolved by ``lookup`` beginning in ``grammar``."""
    network = Network(lookup)
    entry, end = network.state(), network.state()
    network.build(what, entry, end, grammar)
    return Automaton(network, entry, end)
