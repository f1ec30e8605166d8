"""The search graph of a state: its words alone, deterministic, without empty arcs.

Rules that no question changes (numbers, units, commands), and those that change only with the quantity asked,
are made small once and then copied in whole, so that a new state costs a few milliseconds.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from assistant.hearing.protocol import WordGraph
from assistant.language.automaton import Lookup, Network
from assistant.language.jsgf import Expansion, Tagged
from assistant.language.sources import references


@dataclass(frozen=True)
class _Small:
    """A deterministic automaton: ``steps[state][word]`` and final states; it starts in 0."""

    steps: tuple[dict[str, int], ...]
    finals: frozenset[int]


@dataclass
class Fragments:
    """What was already made and may be copied: small automata by rule and, where it differs with it, by quantity.

    One instance belongs to one set of sources.
    """

    made: dict[tuple[str, str], _Small] = field(default_factory=dict)
    needs: dict[str, frozenset[str]] = field(default_factory=dict)


#: The rules that the question gives through its quantity alone.
_BY_QUANTITY = {"unit", "value"}


class _WordNetwork(Network):
    """A network without marks that copies known fragments in."""

    def __init__(self, lookup: Lookup, fragments: Fragments, quantity: str) -> None:
        super().__init__(lookup)
        self.fragments, self.quantity = fragments, quantity

    def tagged(self, what: Tagged, entry: int, end: int, grammar: str) -> None:
        self.build(what.item, entry, end, grammar)

    def reference(self, name: str, entry: int, end: int, grammar: str) -> None:
        expansion, home = self.lookup(name, grammar)
        short = name.rpartition(".")[2]
        needs = frozenset([short]) if home == "state" else self._needs_of(f"{home}.{short}", expansion, home)
        if needs - _BY_QUANTITY:
            self.build(expansion, entry, end, home)
            return
        key = (f"{home}.{short}", self.quantity if needs else "")
        if key not in self.fragments.made:
            large = _determinised(expansion, home, self.lookup, self.fragments, self.quantity)
            self.fragments.made[key] = _equal_joined(large)
        self._copy(self.fragments.made[key], entry, end)

    def _needs_of(self, rule: str, what: Expansion, home: str) -> frozenset[str]:
        """The rules of the question that ``rule`` uses, however deep."""
        if rule not in self.fragments.needs:
            found: set[str] = set()
            for ref in references(what):
                short = ref.name.rpartition(".")[2]
                expansion, there = (what, "state") if ref.name.startswith("state.") else self.lookup(ref.name, home)
                found |= {short} if there == "state" else self._needs_of(f"{there}.{short}", expansion, there)
            self.fragments.needs[rule] = frozenset(found)
        return self.fragments.needs[rule]

    def _copy(self, small: _Small, entry: int, end: int) -> None:
        base = len(self.word_arcs)
        for here in small.steps:
            state = self.state()
            self.word_arcs[state] = [(word, base + to) for word, to in here.items()]
        self.empty(entry, base)
        for final in small.finals:
            self.empty(base + final, end)


def _determinised(what: Expansion, grammar: str, lookup: Lookup, fragments: Fragments, quantity: str) -> _Small:
    """Subset construction: a word leads from a state to one state at most."""
    network = _WordNetwork(lookup, fragments, quantity)
    entry, end = network.state(), network.state()
    network.build(what, entry, end, grammar)
    reach = _Reach(network)
    first = reach.of(entry)
    numbers, queue = {first: 0}, [first]
    steps: list[dict[str, int]] = []
    finals: set[int] = set()
    for group in queue:
        if group >> end & 1:
            finals.add(numbers[group])
        merged: dict[str, int] = {}
        for state in reach.members(group):
            for word, to in network.word_arcs[state]:
                merged[word] = merged.get(word, 0) | reach.of(to)
        here: dict[str, int] = {}
        for word, target in merged.items():
            if target not in numbers:
                numbers[target] = len(numbers)
                queue.append(target)
            here[word] = numbers[target]
        steps.append(here)
    return _Small(tuple(steps), frozenset(finals))


class _Reach:
    """Groups of states as the bits of an integer: fast to join and to look up."""

    def __init__(self, network: Network) -> None:
        self._network = network
        self._known: dict[int, int] = {}

    def of(self, state: int) -> int:
        """The states with words reached from ``state`` without a word, and those where nothing leads on."""
        if state not in self._known:
            seen = {state}
            stack = [state]
            while stack:
                for to, _, _ in self._network.empty_arcs[stack.pop()]:
                    if to not in seen:
                        seen.add(to)
                        stack.append(to)
            group = 0
            for near in seen:
                if self._network.word_arcs[near] or not self._network.empty_arcs[near]:
                    group |= 1 << near
            self._known[state] = group
        return self._known[state]

    @staticmethod
    def members(group: int) -> list[int]:
        found: list[int] = []
        while group:
            lowest = group & -group
            found.append(lowest.bit_length() - 1)
            group ^= lowest
        return found


def _equal_joined(small: _Small) -> _Small:
    """Moore's partition: states that accept the same strings become one; state 0 stays the start."""
    kind = [int(state in small.finals) for state in range(len(small.steps))]
    count = 0
    while True:
        names: dict[tuple[int, frozenset[tuple[str, int]]], int] = {}
        kind = [
            names.setdefault((kind[at], frozenset((word, kind[to]) for word, to in here.items())), len(names))
            for at, here in enumerate(small.steps)
        ]
        if len(names) == count:
            break
        count = len(names)
    steps: list[dict[str, int]] = [{} for _ in range(count)]
    for at, here in enumerate(small.steps):
        steps[kind[at]] = {word: kind[to] for word, to in here.items()}
    return _Small(tuple(steps), frozenset(kind[state] for state in small.finals))


def word_graph(what: Expansion, lookup: Lookup, fragments: Fragments, quantity: str) -> WordGraph:
    """The graph of everything in ``what``; ``fragments`` grows with what later states can use again."""
    small = _determinised(what, "state", lookup, fragments, quantity)
    return WordGraph(
        states=len(small.steps),
        start=0,
        finals=small.finals,
        arcs=tuple((at, word, to) for at, here in enumerate(small.steps) for word, to in here.items()),
    )
