"""How the rule of ``assistant/hearing/judgement.py`` was fitted: its curve of asked too often against wrong.

    python -m tests.benchmarks.judgement SET [--snr DB] [--noise KIND] [--every N]

SET is a measuring set of synthetic voices (``python -m recordings_synthetic measuring-set``), never human speech. Both
ears hear each utterance. Of the answers without a doubt that both have heard it prints, for thresholds of the log odds,
how many would be recorded and how many wrong ones among them; then how often the others are right by the chance that
was told, and the coefficients that a fresh fit would give.
"""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from assistant.hearing.default import default_ears
from assistant.hearing.judgement import plausible
from assistant.hearing.measuring import NONE, read_set, sounds
from assistant.hearing.protocol import SAMPLE_RATE, Utterance
from assistant.hearing.two_ears import TwoEars
from assistant.language.compare import meaning_key
from assistant.language.interpret import interpret

_Array = NDArray[np.float64]
LOG_ODDS = (-99.0, 1.5, 2.0, 2.43, 3.2, 3.8, 4.5)


@dataclass(frozen=True)
class Judged:
    """One answer: heard by both ears, without a doubt, right; its chance, and its leads where there was a look."""

    both: bool
    plain: bool
    right: bool
    chance: float
    told: tuple[float, float] | None


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--snr", type=float)
    parser.add_argument("--noise", default="fan")
    parser.add_argument("--every", type=int, default=1)
    args = parser.parse_args()
    judged = _listen(args.folder, args.snr, args.noise, args.every)
    both = [each for each in judged if each.both and each.plain]
    at_once = [each for each in both if each.told is None]
    looked = [each for each in both if each.told is not None]
    print(
        f"{len(judged)} answers; heard by both at once {len(at_once)}, {sum(not each.right for each in at_once)} wrong"
    )
    _print_curve(looked)
    differed = [each for each in judged if not each.both and each.told is not None]
    _print_reliability(differed)
    for name, some in (("both", looked), ("differed", differed)):
        print(f"a fresh fit (constant, lead by sound, lead in the other ear), {name}:", _fitted(some).round(2))


def _listen(folder: Path, snr_db: float | None, noise: str, every: int) -> list[Judged]:
    ears = default_ears()
    assert isinstance(ears, TwoEars)
    chosen = read_set(folder)
    judged = []
    for spoken, audio in islice(sounds(chosen, snr_db, noise), 0, None, every):
        if spoken.kind.startswith(NONE):
            continue
        expectation = chosen.expectations[spoken.kind]
        ears.expect(expectation)
        considered = ears.consider(Utterance(audio, 0.0, len(audio) / SAMPLE_RATE))
        answer = considered.judgement.answer
        if answer is not None:
            truth = meaning_key(spoken.meaning or interpret(spoken.text, expectation).meaning)
            told = considered.judgement
            plain = not told.doubt and plausible(answer.meaning, expectation)
            judged.append(Judged(told.both, plain, meaning_key(answer.meaning) == truth, told.chance, told.told))
    return judged


def _print_curve(looked: list[Judged]) -> None:
    print(f"heard by both after a look: {len(looked)}")
    print(f"{'log odds':>10}{'recorded':>10}{'wrong':>8}")
    for least in LOG_ODDS:
        kept = [each.right for each in looked if np.log(each.chance / (1 - each.chance)) >= least]
        print(f"{least:>10}{len(kept):>10}{kept.count(False):>8}")


def _print_reliability(differed: list[Judged]) -> None:
    print(f"not heard by both: {len(differed)}; right among them, by the chance that was told:")
    for low, high in ((0, 0.25), (0.25, 0.5), (0.5, 0.75), (0.75, 1.01)):
        some = [each.right for each in differed if low <= each.chance < high]
        if some:
            print(f"  {low:.2f} to {min(high, 1):.2f}: {sum(some)} of {len(some)}")


def _fitted(some: list[Judged], ridge: float = 0.3) -> _Array:
    """Logistic regression by Newton's method, with a little ridge against too few wrong answers."""
    features = np.array([(1.0, *(each.told or (0.0, 0.0))) for each in some])
    right = np.array([float(each.right) for each in some])
    weights = np.zeros(features.shape[1])
    for _ in range(50):
        chance = 1 / (1 + np.exp(-features @ weights))
        slope = features.T @ (right - chance) - ridge * np.array([0.0, *weights[1:]])
        curve = (features.T * (chance * (1 - chance))) @ features + ridge * np.eye(len(weights))
        weights = weights + np.linalg.solve(curve, slope)
    return weights


if __name__ == "__main__":
    main()
