"""How well ``seconds`` foretells the voice, on the replies of the knowledge folder; and the best figures for it.

python -m tests.benchmarks.speech_length [--texts 400]
"""

from __future__ import annotations

import argparse
import random
from collections.abc import Iterator
from typing import Any

import numpy as np
import yaml

from assistant.data.places import data_folder
from assistant.speaking.synthesis import RATE, synthesizer
from assistant.speaking.text import counts, seconds

_SPOKEN = {"say", "why", "means"}


def texts() -> list[str]:
    """Everything in the knowledge folder that is spoken."""
    found = []
    for path in sorted(data_folder("knowledge").rglob("*.yaml")):
        found += list(_walk(yaml.safe_load(path.read_text(encoding="utf-8")), ""))
    return sorted({text for text in found if len(text) > 3})


def _walk(node: Any, key: str) -> Iterator[str]:
    if isinstance(node, dict):
        for name, value in node.items():
            yield from _walk(value, name)
    elif isinstance(node, list):
        for value in node:
            yield from _walk(value, key)
    elif isinstance(node, str) and key in _SPOKEN:
        yield node


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--texts", type=int, default=400)
    chosen = texts()
    random.Random(1).shuffle(chosen)
    chosen = chosen[: parser.parse_args().texts]
    real = np.array([len(synthesizer().render(text)) / RATE for text in chosen])
    told = np.array([seconds(text) for text in chosen])
    error = told / real - 1
    print(f"{len(chosen)} texts, {real.mean():.2f} s on average, longest {real.max():.2f} s")
    print(f"told/real - 1: mean {error.mean():+.3f}, size {np.abs(error).mean():.3f}, worst {np.abs(error).max():.3f}")
    print(f"over 8 s: {np.sum(real > 8)} really, {np.sum(told > 8)} foretold, {np.sum(told[real > 8] <= 8)} missed")
    table = np.array([counts(text) for text in chosen], float)
    best, *_ = np.linalg.lstsq(table, real, rcond=None)
    after = np.abs(table @ best / real - 1)
    print(f"best figures {np.round(best, 3).tolist()}: size {after.mean():.3f}, worst {after.max():.3f}")


if __name__ == "__main__":
    main()
