"""Tables of sentences measured against the shipped knowledge: which state a line is said in, what a check is called."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from pathlib import Path

from assistant.dialogue.nameable import components
from assistant.dialogue.scope import scope_at
from assistant.language import corpus
from assistant.language.measuring import Tally, Understood, measure
from assistant.language.net import Net
from assistant.language.own_words import stem
from assistant.language.scope import Scope
from assistant.language.understand import understand
from assistant.library.loader import Library


def measured(
    files: Iterable[Path], library: Library, net: Net | None, gone: list[str] | None = None, every: int = 1
) -> dict[str, Tally]:
    """A tally for every kind of sentence in ``files``, typed; ``every`` takes each so manieth line only.

    Lines about questions that are no more are told in ``gone``. Raises CorpusError for a table that cannot be read.
    """
    return measured_by(lambda row, scope: [understand(row.sentence, scope, net)], files, library, gone, every)


def measured_by(
    understood: Understood, files: Iterable[Path], library: Library, gone: list[str] | None = None, every: int = 1
) -> dict[str, Tally]:
    """As ``measured``, by what ``understood`` makes of each sentence in its state."""

    @cache
    def scope_of(key: str) -> Scope | None:
        return scope_at(key, library)

    def known(key: str) -> Scope:
        found = scope_of(key)
        assert found is not None  # the table was read with the same questions
        return found

    def ask(key: str) -> object:
        found = scope_of(key)
        return found.expectation if found is not None else None

    rows = [row for file in files for row in corpus.read(file, ask, gone)]  # type: ignore[arg-type]
    return measure(rows[::every], known, understood, lambda slug, target: _named(slug, target, library))


def _named(slug: str, target: str, library: Library) -> bool:
    """Whether the target of "check the ..." is called what the slug says: most of its words are among the target's."""
    wanted = corpus.slug_words(slug)
    called = next((choice.phrases for choice in components(library) if choice.id == target), ())
    words = {stem(word) for phrase in (*called, target.replace("-", " ").replace(":", " ")) for word in phrase.split()}
    return 2 * len({stem(word) for word in wanted} & words) >= len(wanted)
