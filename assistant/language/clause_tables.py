"""The clauses whose meaning is known: the tables beside the net in ``grammars/meanings``, as keys of meanings."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from functools import lru_cache

from assistant.language.sources import folder


@lru_cache(maxsize=1)
def known_clauses() -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Every clause with the keys that it may mean; sentences of several facts and readings are left out."""
    return tuple(_clauses())


def _clauses() -> Iterator[tuple[str, tuple[str, ...]]]:
    for path in sorted((folder() / "meanings").glob("clauses_*.tsv")):
        with path.open(encoding="utf-8", newline="") as file:
            for row in csv.DictReader(file, delimiter="\t", quoting=csv.QUOTE_NONE):
                keys = tuple(key for one in row["meaning"].split(" | ") if (key := _key(one.strip(), row["state"])))
                if keys:
                    yield row["sentence"], keys


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
