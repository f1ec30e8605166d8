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
#: Encoded at once when the exemplars are made.
_AT_ONCE = 64

Vectors = NDArray[np.float32]


class NetError(LaddersideError):
    """The sentence model is missing, altered or cannot be read."""


class Encoder:
    """Turns (question, clause) into vectors of length one; the question is "" where none is open.

    ``folder`` holds the model; ``sha256`` gives the hash of each file that must be what it was.
    Raises NetError when a file is missing or another.
    """

    def __init__(self, folder: Path, sha256: dict[str, str]) -> None:
        for name, wanted in sha256.items():
            path = folder / name
            if not path.is_file():
                raise NetError(f"The sentence model's file {name} is missing in {folder}; install Ladderside again.")
            if hashlib.sha256(path.read_bytes()).hexdigest() != wanted:
                raise NetError(f"The sentence model's file {path} is not the one it was; install Ladderside again.")
        self._pieces = Tokenizer.from_file(str(folder / WORD_PIECES))
        self._pieces.enable_padding()
        self._pieces.enable_truncation(MOST_PIECES)
        options = onnxruntime.SessionOptions()
        options.intra_op_num_threads = 1
        options.inter_op_num_threads = 1
        options.enable_cpu_mem_arena = False  # keeps the memory of the longest clause from being held
        self._session = onnxruntime.InferenceSession(str(folder / MODEL), options, providers=["CPUExecutionProvider"])

    def encode(self, said: Sequence[tuple[str, str]]) -> Vectors:
        """Vectors, (n, 384), of n pairs (question or "", clause)."""
        out = [self._batch(said[first : first + _AT_ONCE]) for first in range(0, len(said), _AT_ONCE)]
        return np.concatenate(out) if out else np.zeros((0, 384), np.float32)

    def _batch(self, said: Sequence[tuple[str, str]]) -> Vectors:
        pieces = self._pieces.encode_batch([pair if pair[0] else pair[1] for pair in said])
        feed = {
            "input_ids": np.array([item.ids for item in pieces], np.int64),
            "attention_mask": np.array([item.attention_mask for item in pieces], np.int64),
            "token_type_ids": np.array([item.type_ids for item in pieces], np.int64),
        }
        vectors: Vectors = self._session.run(None, feed)[0]
        return vectors
