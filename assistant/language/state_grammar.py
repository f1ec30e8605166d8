"""The language of one state, compiled for every kind of ear."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class WordGraph:
    """An acceptor of the word strings allowed in a state: ``arcs`` are (from, word, to), no empty words."""

    states: int
    start: int
    finals: frozenset[int]
    arcs: tuple[tuple[int, str, int], ...]


@dataclass(frozen=True)
class StateGrammar:
    """One state's language, compiled from ``grammars/`` and the expectation, for every kind of ear.

    ``graph`` for a searching ear, ``prompt`` for a free-text ear, ``phrases`` the closed phrases that can be
    scored whole (findings and commands), ``words`` the vocabulary of a phrase-list ear.
    """

    name: str
    graph: WordGraph
    prompt: str
    phrases: tuple[str, ...]
    words: frozenset[str]
