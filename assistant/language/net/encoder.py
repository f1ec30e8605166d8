"""The sentence model: a clause, with the question it answers, becomes a vector; near vectors mean nearly the same.

A small transformer (six layers, 384 numbers) that was taught on clauses of technicians and customers, as ONNX with
eight-bit weights. ``grammars/README.md`` tells where it comes from and how it was taught.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from pathlib import Path

import numpy as np
import onnxruntime
from numpy.typing import NDArray
from tokenizers import Tokenizer

from assistant.errors import LaddersideError

MODEL, WORD_PIECES = "net.onnx", "word-pieces.json"
#: Longer clauses are cut: a person says some forty word pieces in a breath.
MOST_PIECES = 64

Vectors = NDArray[np.float32]


class NetError(LaddersideError):
    """The sentence model is missing, altered or cannot be read."""


def verified(path: Path, sha256: str) -> bytes:
    """What the file at ``path`` holds; raises NetError when it is missing or its hash is another (hexadecimal)."""
    try:
        held = path.read_bytes()
    except FileNotFoundError:
        raise NetError(
            f"The sentence model's file {path.name} is missing in {path.parent}; install Ladderside again."
        ) from None
    except OSError as error:
        raise NetError(f"{path} cannot be read ({error.strerror}); install Ladderside again.") from None
    if hashlib.sha256(held).hexdigest() != sha256:
        raise NetError(f"The sentence model's file {path} is not the one it was; install Ladderside again.")
    return held


class Encoder:
    """Turns (question, clause) into vectors of length one; the question is "" where none is open.

    ``folder`` holds the model; ``sha256`` gives the hash of each file that must be what it was.
    Raises NetError when a file is missing or another.
    """

    def __init__(self, folder: Path, sha256: dict[str, str]) -> None:
        for name, wanted in sha256.items():
            verified(folder / name, wanted)
        self._pieces = Tokenizer.from_file(str(folder / WORD_PIECES))
        self._pieces.enable_truncation(MOST_PIECES)
        options = onnxruntime.SessionOptions()
        options.intra_op_num_threads = 1
        options.inter_op_num_threads = 1
        options.enable_cpu_mem_arena = False  # keeps the memory of the longest clause from being held
        self._session = onnxruntime.InferenceSession(str(folder / MODEL), options, providers=["CPUExecutionProvider"])

    def encode(self, said: Sequence[tuple[str, str]]) -> Vectors:
        """Vectors, (n, 384), of n pairs (question or "", clause); the same pair has the same whatever stands beside it.

        Each runs for itself: eight-bit weights are scaled by all that is in a run, so what is run together would alter.
        """
        return np.concatenate([self._one(pair) for pair in said]) if said else np.zeros((0, 384), np.float32)

    def _one(self, pair: tuple[str, str]) -> Vectors:
        question, clause = pair
        pieces = self._pieces.encode(question, clause) if question else self._pieces.encode(clause)
        feed = {
            "input_ids": np.array([pieces.ids], np.int64),
            "attention_mask": np.array([pieces.attention_mask], np.int64),
            "token_type_ids": np.array([pieces.type_ids], np.int64),
        }
        vectors: Vectors = self._session.run(None, feed)[0]
        return vectors
