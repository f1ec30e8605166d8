"""The clauses whose meaning is known: the tables beside the net in ``grammars/meanings``, as keys of meanings."""

from __future__ import annotations

import csv
from collections import Counter
from collections.abc import Iterator, Mapping
from functools import lru_cache
from itertools import permutations

from assistant.language.sources import folder


@lru_cache(maxsize=1)
def known_clauses() -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Every clause with the keys that it may mean; sentences of several facts and readings are left out."""
    return tuple(_clauses())


#: So often must two requests or questions back have been meant by the same words to be one.
_OFTEN = 10


def says_the_same(one: str | None, other: str | None) -> bool:
    """Whether some clause is known that means both: a symptom and what a check finds, two words for one request."""
    return one is not None and other is not None and (one, other) in _together()


@lru_cache(maxsize=1)
def _together() -> frozenset[tuple[str, str]]:
    counts = Counter(
        pair for _, keys in known_clauses() for pair in permutations(dict.fromkeys(keys), 2) if _may_be_one(*pair)
    )
    return frozenset(
        pair for pair, count in counts.items() if _is_found(pair[0]) != _is_found(pair[1]) or count >= _OFTEN
    )


def _may_be_one(one: str, other: str) -> bool:
    return "emergency" not in one + other and not (one.startswith("indication") and other.startswith("indication"))


def _is_found(key: str) -> bool:
    return "=choice:" in key


@lru_cache(maxsize=1)
def told_clauses() -> dict[str, tuple[str, ...]]:
    """The clauses that tell a finding unasked, by the question that it answers."""
    found: dict[str, list[str]] = {}
    for row in _rows():
        kind, _, fact = row["meaning"].partition(":")
        question, told, _ = fact.partition("=choice:")
        if kind == "facts" and told and " + " not in fact and " | " not in fact:
            found.setdefault(question, []).append(row["sentence"])
    return {question: tuple(said) for question, said in found.items()}


def tables() -> Iterator[tuple[str, tuple[dict[str, str], ...]]]:
    """Each table's letter and its rows: sentence, state, meaning and kind."""
    for path in sorted((folder() / "meanings").glob("clauses_*.tsv")):
        with path.open(encoding="utf-8", newline="") as file:
            yield path.stem[-1], tuple(csv.DictReader(file, delimiter="\t", quoting=csv.QUOTE_NONE))


def keys_of(row: Mapping[str, str]) -> tuple[str, ...]:
    """The keys of what a row may mean; none for sentences of several facts, readings and talk."""
    return tuple(key for one in row["meaning"].split(" | ") if (key := _key(one.strip(), row["state"])))


def _clauses() -> Iterator[tuple[str, tuple[str, ...]]]:
    for row in _rows():
        if keys := keys_of(row):
            yield row["sentence"], keys


def _rows() -> Iterator[dict[str, str]]:
    for _, rows in tables():
        yield from rows


def _key(meaning: str, state: str) -> str:
    """The key of one meaning, "" where it is not one that is ranked."""
    kind, _, rest = meaning.partition(":")
    if kind == "choice":
        return f"{state}={meaning}"
    if kind in ("indication", "cannot", "ask", "emergency"):
        return meaning
    if kind == "command":
        return f"command:{rest.split(' ')[0]}"
    if kind == "facts" and " + " not in rest and "reading" not in rest:
        return rest
    return ""
