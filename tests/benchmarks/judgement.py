"""How the rule of ``assistant/hearing/judgement.py`` was fitted: its curve of asked too often against wrong.

    python -m tests.benchmarks.judgement SET [--snr DB] [--noise KIND] [--every N]

SET is a measuring set of synthetic voices (``python -m recordings_synthetic measuring-set``), never human speech. Both
ears hear each utterance; of those on which they agree it prints, for thresholds of the chance, which share of right
answers would be asked about and how many wrong ones would pass, and the coefficients that a fresh fit would give.
"""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from assistant.hearing.default import default_ears
from assistant.hearing.judgement import agreed_lead
from assistant.hearing.measuring import NONE, read_set, sounds
from assistant.hearing.protocol import SAMPLE_RATE, Utterance
from assistant.hearing.two_ears import TwoEars
from assistant.language.compare import meaning_key
from assistant.language.interpret import interpret

_Array = NDArray[np.float64]
THRESHOLDS = (0.67, 0.73, 0.78, 0.83, 0.866, 0.895, 0.919, 0.938, 0.953, 0.97)


@dataclass(frozen=True)
class Judged:
    """One utterance: the judgement's lead and chance, whether the ears agreed, and whether the answer is right."""

    agreed: bool
    right: bool
    chance: float
    lead: float


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--snr", type=float)
    parser.add_argument("--noise", default="fan")
    parser.add_argument("--every", type=int, default=1)
    args = parser.parse_args()
    judged = _listen(args.folder, args.snr, args.noise, args.every)
    agreed = [each for each in judged if each.agreed]
    print(f"{len(judged)} utterances; the ears agree on {len(agreed)}, {sum(not each.right for each in agreed)} wrong")
    _print_curve(agreed)
    _print_reliability([each for each in judged if not each.agreed])
    print("a fresh fit (constant, lead):", _fitted(agreed).round(3))


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
            right = meaning_key(answer.meaning) == truth
            both = considered.phoneme_first is not None and considered.phoneme_first == considered.other_first
            others = [each for each in considered.candidates if each is not answer]
            judged.append(Judged(both, right, considered.judgement.chance, min(agreed_lead(answer, others), 12.0)))
    return judged


def _print_curve(agreed: list[Judged]) -> None:
    right = [each.chance for each in agreed if each.right]
    wrong = [each.chance for each in agreed if not each.right]
    print(f"{'chance':>8}{'right, asked about':>22}{'wrong, recorded':>18}")
    for least in THRESHOLDS:
        asked = sum(chance < least for chance in right)
        print(f"{least:>8}{100 * asked / max(1, len(right)):>20.1f} %{sum(chance >= least for chance in wrong):>18}")


def _print_reliability(differed: list[Judged]) -> None:
    print(f"the ears differ on {len(differed)}; right among them, by the chance that was told:")
    for low, high in ((0, 0.25), (0.25, 0.5), (0.5, 0.75), (0.75, 1.01)):
        some = [each.right for each in differed if low <= each.chance < high]
        if some:
            print(f"  {low:.2f} to {min(high, 1):.2f}: {sum(some)} of {len(some)}")


def _fitted(agreed: list[Judged], ridge: float = 0.05) -> _Array:
    """Logistic regression by Newton's method, with a little ridge against too few wrong answers."""
    features = np.array([(1.0, each.lead) for each in agreed])
    right = np.array([float(each.right) for each in agreed])
    weights = np.zeros(features.shape[1])
    for _ in range(50):
        chance = 1 / (1 + np.exp(-features @ weights))
        slope = features.T @ (right - chance) - ridge * np.array([0.0, *weights[1:]])
        curve = (features.T * (chance * (1 - chance))) @ features + ridge * np.eye(len(weights))
        weights = weights + np.linalg.solve(curve, slope)
    return weights


if __name__ == "__main__":
    main()
