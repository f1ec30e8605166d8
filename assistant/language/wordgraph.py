"""The search graph of a state: its words alone, deterministic, without empty arcs.

Rules that no question changes (numbers, units, commands), and those that change only with the quantity asked,
are made small once and then copied in whole, so that a new state costs a few milliseconds.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass, field

from assistant.language.automaton import Lookup, Network
from assistant.language.jsgf import Expansion, Tagged
from assistant.language.sources import given_by_state, references
from assistant.language.state import Part
from assistant.language.state_grammar import WordGraph


@dataclass(frozen=True)
class _Small:
    """A deterministic automaton: ``steps[state][word]`` and final states; it starts in 0."""

    steps: tuple[dict[str, int], ...]
    finals: frozenset[int]


@dataclass
class Fragments:
    """What was already made and may be copied: small automata by rule and, where it differs with it, by quantity;
    and whole parts of a state by key.

    One instance belongs to one set of sources.
    """

    made: dict[tuple[str, str], _Small] = field(default_factory=dict)
    needs: dict[str, frozenset[str]] = field(default_factory=dict)
    parts: dict[Hashable, _Small] = field(default_factory=dict)


#: The rules that the question gives through its quantity alone.
_BY_QUANTITY = frozenset({"unit", "value"})
#: Those that are the same for every question.
_FIXED = frozenset({"sum", "parameter"})


class _WordNetwork(Network):
    """A network without marks that copies known fragments in. ``quantities`` tells each side's quantity."""

    def __init__(self, lookup: Lookup, fragments: Fragments, quantities: dict[str, str]) -> None:
        super().__init__(lookup)
        self.fragments, self.quantities = fragments, quantities

    def tagged(self, what: Tagged, entry: int, end: int, grammar: str) -> None:
        self.build(what.item, entry, end, grammar)

    def reference(self, name: str, entry: int, end: int, grammar: str) -> None:
        expansion, home = self.lookup(name, grammar)
        plain, _, side = home.partition("@")
        short = name.rpartition(".")[2]
        needs = frozenset([short]) if plain == "state" else self._needs_of(f"{plain}.{short}", expansion, home)
        if needs - _BY_QUANTITY - _FIXED:
            self.build(expansion, entry, end, home)
            return
        key = (f"{plain}.{short}", self.quantities[side or "now"] if needs & _BY_QUANTITY else "")
        if key not in self.fragments.made:
            large = _determinised(expansion, home, self.lookup, self.fragments, self.quantities)
            self.fragments.made[key] = _equal_joined(large)
        self._copy(self.fragments.made[key], entry, end)

    def _needs_of(self, rule: str, what: Expansion, home: str) -> frozenset[str]:
        """The rules of the question that ``rule`` uses, however deep; a change of sides counts as one."""
        if rule not in self.fragments.needs:
            found: set[str] = set()
            for ref in references(what):
                given = given_by_state(ref.name)
                if given:
                    found.add(given if ref.name.startswith("state.") else ref.name)
                    continue
                expansion, there = self.lookup(ref.name, home)
                short = ref.name.rpartition(".")[2]
                found |= self._needs_of(f"{there.partition('@')[0]}.{short}", expansion, there)
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


def _determinised(
    what: Expansion, grammar: str, lookup: Lookup, fragments: Fragments, quantities: dict[str, str]
) -> _Small:
    """Subset construction: a word leads from a state to one state at most."""
    network = _WordNetwork(lookup, fragments, quantities)
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
            for word, target in reach.steps(state):
                merged[word] = merged[word] | target if word in merged else target
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
        self._steps: dict[int, list[tuple[str, int]]] = {}

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

    def steps(self, state: int) -> list[tuple[str, int]]:
        """The words on from ``state``, each with the whole group that it leads to."""
        if state not in self._steps:
            self._steps[state] = [(word, self.of(to)) for word, to in self._network.word_arcs[state]]
        return self._steps[state]

    @staticmethod
    def members(group: int) -> list[int]:
        found: list[int] = []
        while group:
            lowest = group & -group
            found.append(lowest.bit_length() - 1)
            group ^= lowest
        return found


def _equal_joined(small: _Small) -> _Small:
    """States that accept the same strings become one; state 0 stays the start."""
    order = _backwards(small)
    kind = _by_end(small, order) if order is not None else _by_partition(small)
    # The start must have number 0.
    swap = {kind[0]: 0, 0: kind[0]}
    kind = [swap.get(one, one) for one in kind]
    steps: list[dict[str, int]] = [{} for _ in range(max(kind) + 1)]
    for at, here in enumerate(small.steps):
        steps[kind[at]] = {word: kind[to] for word, to in here.items()}
    return _Small(tuple(steps), frozenset(kind[state] for state in small.finals))


def _backwards(small: _Small) -> list[int] | None:
    """The states, each after all that it leads to; None when there is a loop."""
    order: list[int] = []
    seen = [0] * len(small.steps)  # 0 new, 1 open, 2 done
    stack = [(0, iter(small.steps[0].values()))]
    seen[0] = 1
    while stack:
        state, rest = stack[-1]
        to = next(rest, None)
        if to is None:
            seen[state] = 2
            order.append(state)
            stack.pop()
        elif seen[to] == 1:
            return None
        elif not seen[to]:
            seen[to] = 1
            stack.append((to, iter(small.steps[to].values())))
    return order


def _by_end(small: _Small, order: list[int]) -> list[int]:
    """Classes of an automaton without loops, in one pass from its ends."""
    kind = [0] * len(small.steps)
    names: dict[tuple[bool, frozenset[tuple[str, int]]], int] = {}
    for state in order:
        key = (state in small.finals, frozenset((word, kind[to]) for word, to in small.steps[state].items()))
        kind[state] = names.setdefault(key, len(names))
    return kind


def _by_partition(small: _Small) -> list[int]:
    """Classes by Moore's partition, for an automaton with loops."""
    kind = [int(state in small.finals) for state in range(len(small.steps))]
    count = 0
    while True:
        names: dict[tuple[int, frozenset[tuple[str, int]]], int] = {}
        kind = [
            names.setdefault((kind[at], frozenset((word, kind[to]) for word, to in here.items())), len(names))
            for at, here in enumerate(small.steps)
        ]
        if len(names) == count:
            return kind
        count = len(names)


def word_graph(parts: Sequence[Part], lookup: Lookup, fragments: Fragments, quantities: dict[str, str]) -> WordGraph:
    """The graph of all ``parts`` side by side, each made once for its key; ``fragments`` grows with them.

    ``quantities`` holds the quantity asked "now" and the one answered "before", "" where there is none. Only from
    the start may a word lead to several states, one for each part that begins with it.
    """
    arcs: list[tuple[int, str, int]] = []
    finals: set[int] = set()
    base = 1
    for part in parts:
        if part.key not in fragments.parts:
            large = _determinised(part.make(), "state@now", lookup, fragments, quantities)
            fragments.parts[part.key] = _joinable(large)
        small = fragments.parts[part.key]
        for at, here in enumerate(small.steps):
            arcs += [(base + at if at else 0, word, base + to) for word, to in here.items()]
        finals |= {base + final for final in small.finals}
        base += len(small.steps)
    return WordGraph(states=base, start=0, finals=frozenset(finals), arcs=tuple(arcs))


def _joinable(small: _Small) -> _Small:
    """The part with as few states as may be, and a start of its own that no word leads back to."""
    least = _equal_joined(small)
    if all(to for here in least.steps for to in here.values()):
        return least
    shift = [{word: to + 1 for word, to in here.items()} for here in (least.steps[0], *least.steps)]
    return _Small(tuple(shift), frozenset(final + 1 for final in least.finals) | ({0} & least.finals))
