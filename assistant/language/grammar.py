"""One source compiled for every ear: the public face of ``grammars/``."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from pathlib import Path

from assistant.language import (
    around,
    asked_frames,
    notions,
    soundalikes,
    sources,
    state,
    to_others,
    told_readings,
)
from assistant.language.meaning import Expectation
from assistant.language.prompt import prompt
from assistant.language.rooms import rooms
from assistant.language.sources import Problem
from assistant.language.state_grammar import StateGrammar
from assistant.language.wordgraph import Fragments, word_graph

__all__ = ["Problem", "compile_state", "problems", "vocabulary", "warm"]

_FRAGMENTS = Fragments()


#: States kept, 0.5 to 1.5 MB each: a visit goes back and forth between few, and another is made in some ms.
_KEPT = 8


@lru_cache(maxsize=_KEPT)
def compile_state(expectation: Expectation) -> StateGrammar:
    """The language of the state that waits for ``expectation``, for every kind of ear; remembered.

    Raises GrammarError when the shipped grammars cannot be used (``problems`` tells them all).
    """
    graph = word_graph(state.parts(expectation), state.lookup(expectation), _FRAGMENTS, state.quantities(expectation))
    phrases = state.closed_phrases(expectation) + state.check_phrases(expectation)
    return StateGrammar(
        name=expectation.question,
        graph=graph,
        prompt=prompt(expectation),
        phrases=tuple(phrase.words for phrase in phrases),
        words=frozenset(word for _, word, _ in graph.arcs),
    )


def warm(expectations: Iterable[Expectation] = ()) -> None:
    """Does work ahead, so that no question waits for it; made to be run in a thread of its own.

    Without ``expectations`` only what every state shares: commands and sums. With the questions of the library, all
    that they need: a second of work for every hundred of them.
    """
    for expectation in (Expectation(question="nothing"), *expectations):
        compile_state(expectation)
        state.automata(expectation)


def vocabulary() -> frozenset[str]:
    """Every word of the shipped grammars and rooms: what pronunciations are needed for, whatever the questions add."""
    grammars = sources.shipped().grammars.values()
    written = (word.text for each in grammars for rule in each.rules for word in sources.words(rule.expansion))
    called = (word for room in rooms() for phrase in room.phrases for word in phrase.split())
    return frozenset((*written, *called))


def problems(expectations: Iterable[Expectation] = (), where: Path | None = None) -> list[Problem]:
    """Everything wrong in the grammars, in the table of soundalikes, and between them and ``expectations``."""
    folder = where or sources.folder()
    found = sources.read(folder)[1]
    tables = (
        (soundalikes.FILE, soundalikes.read),
        (around.FILE, around.read),
        (notions.FILE, notions.read),
        (told_readings.FILE, told_readings.read),
        (asked_frames.FILE, asked_frames.read),
        (to_others.FILE, to_others.read),
    )
    for name, read in tables:
        if (folder / name).is_file():
            found += read(folder / name)[1]
        else:
            found.append(Problem(name, 0, "The file is missing.", "Put it beside the grammars."))
    if found:
        return found
    for expectation in expectations:
        found += state.clashes(expectation)
    return found
