"""How the rule of ``assistant/hearing/listening/judgement.py`` was fitted: its curve of asked too often against wrong.

    python -m tests.benchmarks.judgement SET [--every N] [--from K] [--snr DB] [--noise KIND] [--room S] [--band narrow]

SET is a measuring set of synthetic voices (``python -m recordings_synthetic measuring-set``), never human speech. All
ears hear each utterance. Of the answers without a doubt that two ears have heard it prints, for thresholds of the
share, how many would be recorded and how many wrong ones among them; then how often the others are right by the chance
that was told, and the weights that a fresh fit would give.
"""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize

from assistant.commands.measure_hearing import add_place, place_of
from assistant.hearing.listening.default import default_ears
from assistant.hearing.listening.judgement import (
    VETO,
    Candidate,
    Judgement,
    leads,
    plausible,
)
from assistant.hearing.listening.together import EarsTogether
from assistant.hearing.listening.usual import oddities, says_units
from assistant.hearing.sound.audio import SAMPLE_RATE, Utterance
from assistant.language.compare import meaning_key
from assistant.language.interpret import interpret
from assistant.language.meaning import Expectation
from assistant.measuring.hearing import NONE, read_set, sounds

_Array = NDArray[np.float64]
SHARES = (0.0, 0.9, 0.95, 0.97, 0.99, 0.995)
WRITERS = ("whisper", "moonshine")
FEATURES = ("sound", *WRITERS, *(f"wrote by {name}" for name in WRITERS), "word", "unit", "odd", "doubtful", "outside")
#: As in the rule: an ear is never further behind.
_MOST_BEHIND = 30.0
_RIDGE = 1e-3


@dataclass(frozen=True)
class Judged:
    """One answer with the truth; ``features`` and ``right_at`` are the terms of all candidates and the right one."""

    judgement: Judgement
    plain: bool
    right: bool
    features: _Array
    right_at: int | None


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path)
    add_place(parser)
    parser.add_argument("--every", type=int, default=1)
    parser.add_argument("--from", dest="first", type=int, default=0)
    args = parser.parse_args()
    judged = _listen(args)
    heard = [each for each in judged if each.judgement.hearers >= 2]
    print(f"{len(judged)} answers, {sum(each.right for each in judged)} right; {len(heard)} heard by two ears")
    _print_curve([each for each in heard if each.plain])
    _print_reliability([each for each in judged if each.judgement.hearers < 2])
    print("a fresh fit:", dict(zip(FEATURES, _fitted(judged).round(2).tolist(), strict=True)))


def _listen(args: argparse.Namespace) -> list[Judged]:
    ears = default_ears()
    assert isinstance(ears, EarsTogether)
    chosen = read_set(args.folder)
    judged = []
    for spoken, audio in islice(sounds(chosen, place_of(args)), args.first, None, args.every):
        if spoken.kind.startswith(NONE):
            continue
        expectation = chosen.expectations[spoken.kind]
        ears.expect(expectation)
        considered = ears.consider(Utterance(audio, 0.0, len(audio) / SAMPLE_RATE))
        if considered.judgement.answer is not None:
            truth = meaning_key(spoken.meaning or interpret(spoken.text, expectation).meaning)
            judged.append(_judged(considered.judgement, considered.candidates, truth, expectation))
    return judged


def _judged(judgement: Judgement, candidates: Sequence[Candidate], truth: object, expectation: Expectation) -> Judged:
    answer = judgement.answer
    assert answer is not None
    keys = [meaning_key(each.meaning) for each in candidates]
    return Judged(
        judgement=judgement,
        plain=not judgement.doubt
        and plausible(answer.meaning, expectation)
        and min(leads(answer, candidates)) >= -VETO,
        right=meaning_key(answer.meaning) == truth,
        features=_features(candidates, expectation),
        right_at=keys.index(truth) if truth in keys else None,
    )


def _features(candidates: Sequence[Candidate], expectation: Expectation) -> _Array:
    """What the score is made of, by columns as in FEATURES."""
    columns = [[each.forward for each in candidates]]
    for name in WRITERS:
        known = [each.views[name].known for each in candidates]
        worst = min((each for each in known if each is not None), default=0.0)
        columns.append([worst if each is None else each for each in known])
    ears = np.array(columns, dtype=float).T
    ears = np.maximum(ears - ears.max(axis=0), -_MOST_BEHIND)
    rest = [
        (
            *(each.views[name].exact for name in WRITERS),
            len(each.words.split()),
            says_units(each.meaning),
            -oddities(each.words, each.meaning),
            -bool(each.doubt),
            -(not plausible(each.meaning, expectation)),
        )
        for each in candidates
    ]
    return np.hstack([ears, np.array(rest, dtype=float)])


def _print_curve(heard: list[Judged]) -> None:
    print(f"{'share':>10}{'recorded':>10}{'wrong':>8}")
    for least in SHARES:
        kept = [each.right for each in heard if each.judgement.chance >= least]
        print(f"{least:>10}{len(kept):>10}{kept.count(False):>8}")


def _print_reliability(unheard: list[Judged]) -> None:
    print(f"not heard by two ears: {len(unheard)}; right among them, by the chance that was told:")
    for low, high in ((0, 0.35), (0.35, 0.5), (0.5, 0.75), (0.75, 1.01)):
        some = [each.right for each in unheard if low <= each.judgement.chance < high]
        if some:
            print(f"  {low:.2f} to {min(high, 1):.2f}: {sum(some)} of {len(some)}")


def _fitted(judged: list[Judged]) -> _Array:
    """The weights under which the right candidates have the largest share, with a little ridge (softmax regression)."""
    known = [(each.features, each.right_at) for each in judged if each.right_at is not None]

    def loss(weights: _Array) -> tuple[float, _Array]:
        total, slope = _RIDGE * float(weights @ weights), 2 * _RIDGE * weights
        for features, right_at in known:
            scores = features @ weights
            shares = np.exp(scores - scores.max())
            shares /= shares.sum()
            total -= float(np.log(shares[right_at] + 1e-300)) / len(known)
            slope = slope - (features[right_at] - shares @ features) / len(known)
        return total, slope

    return np.asarray(minimize(loss, np.zeros(len(FEATURES)), jac=True, method="L-BFGS-B").x)


if __name__ == "__main__":
    main()
