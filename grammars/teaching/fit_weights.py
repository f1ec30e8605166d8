"""Fits ``grammars/meanings/weights.json``: what turns likeness and hints into chances.

``python grammars/teaching/fit_weights.py`` after new clauses or another model (two minutes; needs SciPy). Each clause
is ranked as if it, and every other of the same words, were not known; a softmax over all that may be meant, with "none
of these" as one more, is fitted by L-BFGS to what was meant. Clauses that the sentence model was taught with lie nearer
to their like than new ones, so they count less than those that it never saw. What may be said whatever is asked is
ranked in the midst of another question too, as it is said in a visit. What a clause counts (``_counts``) was chosen by
fivefold cross-validation on clauses that the sentence model never saw, for few wrong meanings that look sure.
"""

from __future__ import annotations

import json
import random
import sys
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from assistant.dialogue.scope import INDICATION, scope_at  # noqa: E402
from assistant.language import keys  # noqa: E402
from assistant.language.clause_tables import tables  # noqa: E402
from assistant.language.lexical import counted, word_counts  # noqa: E402
from assistant.language.net.exemplars import WEIGHTS  # noqa: E402
from assistant.language.net.protocol import ANY, NONE, TALK  # noqa: E402
from assistant.language.net.ranking import FEATURES, KINDS, sentence_net  # noqa: E402
from assistant.language.opinions import hints  # noqa: E402
from assistant.language.scope import Scope  # noqa: E402
from assistant.language.written import as_words  # noqa: E402
from assistant.library.loader import Library, load  # noqa: E402
from grammars.teaching.embed_meanings import FOLDER, clauses, note_hash, plain  # noqa: E402
from grammars.teaching.teach_meanings import is_apart  # noqa: E402

#: Every so manieth of the clauses that the sentence model was taught with is enough.
EVERY = 8
#: What a clause counts by its kind: taught, new. Facts told unasked are many, requests and emergencies few.
COUNTS = {
    "volunteered": (0.1, 0.3),
    "talk": (0.3, 0.3),
    "emergency": (1.0, 1.0),
    "answer": (0.1, 1.0),
    "complaint": (0.1, 1.0),
}
OTHERS = (0.5, 2.0)
#: What the same clause counts in the midst of another question.
ELSEWHERE = 0.3
#: Keeps weights small.
_L2 = 0.00005

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Case:
    """A clause: ``rows`` (meanings, features), which of them were meant, the last being "none"; what it counts."""

    rows: Array
    meant: NDArray[np.bool_]
    counts: float


def cases(library: Library) -> Iterator[Case]:
    """Every clause of the tables, ranked as if it were not known."""
    net = sentence_net()
    any_scope = scope_at(ANY, library)
    assert any_scope is not None
    rows_of: dict[str, list[int]] = defaultdict(list)
    for row, (_, words, _) in enumerate(dict.fromkeys(clauses(library))):
        rows_of[words].append(row)
    counts = word_counts(any_scope.tellable)
    counted_of: dict[str, list[tuple[str, ...]]] = defaultdict(list)
    for text, meant in counted(any_scope.tellable):
        counted_of[text].append(meant)
    elsewhere = [key for key, asked in any_scope.tellable.questions.items() if asked.choices]
    for words, state, wanted, weight in _anywhere(_said(library), elsewhere):
        scope = scope_at(state, library) or any_scope
        forgotten = as_words(words)
        for meant in counted_of[forgotten]:
            counts.count(forgotten, meant, -1)
        own = tuple(dict.fromkeys((*keys.own(scope), *keys.anytime())))
        found, rows = net.features(
            words, own, scope.key, keys.told(scope.tellable), _hints(words, scope), rows_of[words]
        )
        for meant in counted_of[forgotten]:
            counts.count(forgotten, meant)
        right = np.array([*(key in wanted for key in found), TALK in wanted])
        if right.any():
            yield Case(rows, right, weight)


def _hints(words: str, scope: Scope):  # type: ignore[no-untyped-def]
    return lambda wanted: hints(words, wanted, scope)


Said = tuple[str, str, frozenset[str], float]


def _anywhere(said: Iterator[Said], elsewhere: Sequence[str]) -> Iterator[Said]:
    """What was said whatever was asked, and symptoms, also as said to some other question."""
    chance = random.Random(0)
    for words, state, wanted, weight in said:
        yield words, state, wanted, weight
        if state in (ANY, INDICATION):
            other = chance.choice(elsewhere)
            if not any(key.startswith(other.partition(".")[0]) for key in wanted):
                yield words, other, wanted, ELSEWHERE * weight


def _said(library: Library) -> Iterator[Said]:
    """Clauses with the state they were said in, the keys that they may mean, and what each counts."""
    for table, rows in tables():
        for number, row in enumerate(rows):
            old = not is_apart(table, number)
            wanted = _wanted(row)
            rare = row["kind"] in ("volunteered", "emergency")
            if wanted and (rare or not (old and number % EVERY)):
                yield plain(row["sentence"]), row["state"], wanted, _counts(row["kind"], old)


def _counts(kind: str, old: bool) -> float:
    """What a clause of this kind counts beside others."""
    return COUNTS.get(kind, OTHERS)[0 if old else 1]


def _wanted(row: dict[str, str]) -> frozenset[str]:
    if row["kind"] in ("reading", "") or " + " in row["meaning"] or "reading:" in row["meaning"]:
        return frozenset()
    return frozenset(_key(one.strip(), row["state"]) for one in row["meaning"].split(" | "))


def _key(meaning: str, state: str) -> str:
    meaning = meaning.removeprefix("facts:")
    if meaning == "none":
        return TALK
    if meaning.startswith("choice:"):
        return f"{state}={meaning}"
    return "command:check" if meaning.startswith("command:check") else meaning


def fitted(found: list[Case]) -> Array:
    """The weights of features and sorts, and last that of "none"."""

    def loss(weights: Array) -> tuple[float, Array]:
        total, slope = 0.0, np.zeros_like(weights)
        for case in found:
            scores = np.append(case.rows @ weights[:-1], weights[-1])
            chances = np.exp(scores - scores.max())
            chances /= chances.sum()
            right = float(chances[case.meant].sum()) + 1e-9
            total -= case.counts * np.log(right)
            away = chances.copy()
            away[case.meant] -= chances[case.meant] / right
            slope[:-1] += case.counts * (case.rows.T @ away[:-1])
            slope[-1] += case.counts * away[-1]
        whole = sum(case.counts for case in found)
        return total / whole + _L2 * float(weights @ weights), slope / whole + 2 * _L2 * weights

    start = np.zeros(len(FEATURES) + len(KINDS) + 1)
    result: Array = minimize(loss, start, jac=True, method="L-BFGS-B", options={"maxiter": 400}).x
    return result


def main() -> None:
    """Write the weights."""
    found = list(cases(load()))
    weights = dict(zip((*FEATURES, *KINDS, NONE), (round(float(one), 3) for one in fitted(found)), strict=True))
    (FOLDER / WEIGHTS).write_text(json.dumps(weights, indent=1) + "\n", encoding="utf-8")
    note_hash(WEIGHTS)
    print(f"{len(found)} clauses: {weights}")


if __name__ == "__main__":
    main()
