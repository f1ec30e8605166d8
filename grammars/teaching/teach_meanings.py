"""Teaches the sentence model ``grammars/meanings/net.onnx`` on: clauses of one meaning near each other, others far.

``python grammars/teaching/teach_meanings.py FOLDER`` (PyTorch, onnx, onnxruntime and tokenizers; a minute on a graphics
processor) writes FOLDER/net.onnx, in two pieces where one would be too long to carry, and prints how many of the
clauses kept apart lie nearest to their meaning before and after. Put it in place of the old one, note its hash
(``embed_meanings.note_hash``), then run ``embed_meanings.py`` and ``fit_weights.py``.

The model is begun from its own eight-bit weights: it stays what it is where nothing new is taught. Taught is what the
ranking does: an answer stands behind its question, a request or a fact behind any question or none. The loss is the
supervised contrastive one (Khosla et al., 2020, https://arxiv.org/abs/2004.11362, equation 2), over batches with two
clauses of every meaning. Every fourth clause of the newer tables is kept apart, so that weights can be fitted.
"""

from __future__ import annotations

import json
import random
import re
import sys
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from assistant.language.clause_tables import keys_of, tables  # noqa: E402

FOLDER = ROOT / "grammars" / "meanings"
#: The newer tables, of which every so manieth clause is kept apart.
APART, EVERY = frozenset("efghijklmnop"), 4
STEPS, RATE, WARM, HEAT, DROP = 400, 3e-5, 40, 0.06, 0.1
#: So much of what may be said whatever is asked stands behind some question.
BEHIND = 0.5
#: Talk is many things: it is near its like, and counts less.
TALK_COUNTS = 0.3
#: Pieces of a file that can be carried.
PIECE = 12 * 1024 * 1024
_LENGTH = 64
_FILL = ("so", "yeah", "okay", "well", "uh", "um", "looks like", "i think", "alright", "hey", "now", "and")


@dataclass(frozen=True)
class Item:
    """A clause with its question ("" for none) and the keys of what it may mean; ``apart``: not taught."""

    question: str
    words: str
    keys: frozenset[str]
    apart: bool


def is_apart(table: str, number: int) -> bool:
    """Whether row ``number`` (from 0) of the table with this letter is kept apart."""
    return table in APART and number % EVERY == 0


def items() -> Iterator[Item]:
    """The clauses of the tables that are ranked."""
    with np.load(FOLDER / "exemplars.npz", allow_pickle=False) as stored:
        asked = json.loads(str(stored["told"]))["questions"]
    for table, rows in tables():
        for number, row in enumerate(rows):
            keys = frozenset({"talk"} if row["kind"] == "talk" else keys_of(row))
            if keys:
                question = asked.get(row["state"], "") if any(key.startswith(row["state"]) for key in keys) else ""
                yield Item(question, _plain(row["sentence"]), keys, is_apart(table, number))


def _plain(words: str) -> str:
    return re.sub(r"\s+", " ", words.lower().replace("’", "'")).strip(" .?!")


class Model:
    """The sentence model as PyTorch has it, read from ONNX and written back there."""

    def __init__(self, path: Path) -> None:
        import onnx
        import torch
        from transformers import BertConfig, BertModel

        self.torch, self.onnx = torch, onnx
        self.proto = onnx.load(str(path))
        self._held = {one.name: one for one in self.proto.graph.initializer}
        self.matrices = self._matrices()
        words, size = self._held["n.m.embeddings.word_embeddings.weight_quantized"].dims
        config = BertConfig(
            vocab_size=words,
            hidden_size=size,
            num_hidden_layers=6,
            num_attention_heads=12,
            intermediate_size=1536,
            hidden_dropout_prob=DROP,
            attention_probs_dropout_prob=DROP,
        )
        self.bert = BertModel(config, add_pooling_layer=False)
        self.bert.load_state_dict({name: torch.tensor(self._value(name)) for name in self.bert.state_dict()})
        self.device = "cuda" if torch.cuda.is_available() else "cpu"
        self.bert.to(self.device).eval()

    def _matrices(self) -> dict[str, str]:
        """The name of each weight -> the initializer of its product, found by the bias that is added behind it."""
        uses = defaultdict(list)
        for node in self.proto.graph.node:
            for name in node.input:
                uses[name].append(node)
        found = {}
        for node in self.proto.graph.node:
            if node.op_type != "MatMulInteger":
                continue
            ahead = [node]
            while ahead:
                one = ahead.pop(0)
                bias = next((name for name in one.input if one.op_type == "Add" and name.endswith(".bias")), "")
                if bias:
                    found[bias.removeprefix("n.m.").removesuffix("bias") + "weight"] = node.input[1]
                    break
                ahead += [after for out in one.output for after in uses[out]]
        return found

    def _value(self, name: str) -> Any:
        array = self.onnx.numpy_helper.to_array
        stem = self.matrices.get(name, f"n.m.{name}_quantized").removesuffix("_quantized")
        if f"{stem}_quantized" in self._held:
            whole, scale, zero = (array(self._held[stem + end]) for end in ("_quantized", "_scale", "_zero_point"))
            weights = (whole.astype(np.float32) - zero) * scale
            return weights.T.copy() if name in self.matrices else weights
        if stem in self._held:
            return array(self._held[stem]).copy()
        return np.arange(512)[None] if name.endswith("position_ids") else np.zeros((1, 512), np.int64)

    def write(self, path: Path) -> None:
        """The model in eight bits, in the graph that it was read from."""
        for name, value in self.bert.state_dict().items():
            weights = value.detach().cpu().numpy()
            if name in self.matrices:
                scale = np.maximum(np.abs(weights).max(1), 1e-8).astype(np.float32) / 127
                self._set(self.matrices[name], np.round(weights.T / scale).astype(np.int8))
                self._set(self.matrices[name].replace("_quantized", "_scale"), scale)
                self._set(self.matrices[name].replace("_quantized", "_zero_point"), np.zeros(len(scale), np.int8))
            elif f"n.m.{name}_quantized" in self._held:
                low, high = min(float(weights.min()), 0.0), max(float(weights.max()), 0.0)
                step = (high - low) / 255
                zero = round(-low / step)
                self._set(f"n.m.{name}_quantized", np.clip(np.round(weights / step) + zero, 0, 255).astype(np.uint8))
                self._set(f"n.m.{name}_scale", np.array(step, np.float32))
                self._set(f"n.m.{name}_zero_point", np.array(zero, np.uint8))
            elif f"n.m.{name}" in self._held:
                self._set(f"n.m.{name}", weights)
        self.onnx.save(self.proto, str(path))

    def _set(self, name: str, value: Any) -> None:
        self._held[name].CopyFrom(self.onnx.numpy_helper.from_array(value, name))

    def encode(self, pieces: Sequence[Any]) -> Any:
        """(n, 384) vectors of length one."""
        torch = self.torch
        longest = max(len(one.ids) for one in pieces)

        def padded(rows: Sequence[Sequence[int]]) -> Any:
            return torch.tensor([[*row, *[0] * (longest - len(row))] for row in rows], device=self.device)

        mask = padded([one.attention_mask for one in pieces])
        out = self.bert(
            input_ids=padded([one.ids for one in pieces]),
            attention_mask=mask,
            token_type_ids=padded([one.type_ids for one in pieces]),
        ).last_hidden_state
        mean = (out * mask[..., None]).sum(1) / mask.sum(1, keepdim=True)
        return torch.nn.functional.normalize(mean, dim=1)


class Teaching:
    """Batches of the clauses, the loss over them, and how well those kept apart are found."""

    def __init__(self, model: Model, tokenizer: Any, known: Sequence[Item], seed: int = 0) -> None:
        self.model, self.tokenizer, self.chance = model, tokenizer, random.Random(seed)
        self.taught = [one for one in known if not one.apart]
        self.apart = [one for one in known if one.apart]
        self.of: dict[str, list[Item]] = defaultdict(list)
        for one in self.taught:
            for key in one.keys:
                self.of[key].append(one)
        self.questions = sorted({one.question for one in known if one.question})

    def run(self, steps: int) -> None:
        """Teach."""
        torch = self.model.torch
        bert = self.model.bert
        best = torch.optim.AdamW(bert.parameters(), lr=RATE, weight_decay=0.01)
        rates = torch.optim.lr_scheduler.LambdaLR(
            best, lambda at: min(1.0, (at + 1) / WARM) * max(0.02, 1 - at / steps)
        )
        bert.train()
        for step in range(steps):
            batch = self._batch()
            with torch.autocast("cuda", torch.bfloat16, enabled=self.model.device == "cuda"):
                vectors = self.model.encode([self._pieces(one, True) for one in batch])
            loss = self._loss(vectors.float(), batch)
            best.zero_grad()
            loss.backward()
            torch.nn.utils.clip_grad_norm_(bert.parameters(), 1.0)
            best.step()
            rates.step()
            if step % 50 == 0:
                print(f"step {step}: loss {float(loss.detach()):.3f}", flush=True)
        bert.eval()

    def _batch(self) -> list[Item]:
        batch = [self.chance.choice(one) for one in self.of.values() for _ in range(2)]
        return batch + self.chance.sample(self.of["talk"], min(200, len(self.of["talk"])))

    def _pieces(self, one: Item, spoilt: bool) -> Any:
        question, words = one.question, one.words
        if spoilt and not question and self.chance.random() < BEHIND:
            question = self.chance.choice(self.questions)
        elif spoilt and question and not any(key == "talk" for key in one.keys) and self.chance.random() < DROP:
            question = ""
        if spoilt and self.chance.random() < 2 * DROP:
            words = f"{self.chance.choice(_FILL)} {words}"
        return self.tokenizer.encode(question, words) if question else self.tokenizer.encode(words)

    def _loss(self, vectors: Any, batch: Sequence[Item]) -> Any:
        torch = self.model.torch
        number = {key: at for at, key in enumerate(sorted({key for one in batch for key in one.keys}))}
        marks = torch.zeros(len(batch), len(number), device=vectors.device)
        for at, one in enumerate(batch):
            for key in one.keys:
                marks[at, number[key]] = 1.0
        same = (marks @ marks.T) > 0
        same.fill_diagonal_(False)
        alike = vectors @ vectors.T / HEAT
        alike.fill_diagonal_(-1e4)
        chances = alike - torch.logsumexp(alike, 1, keepdim=True)
        each = -(chances * same).sum(1) / same.sum(1).clamp(min=1)
        weights = torch.tensor([TALK_COUNTS if "talk" in one.keys else 1.0 for one in batch], device=vectors.device)
        weights = weights * (same.sum(1) > 0)
        return (each * weights).sum() / weights.sum()

    def found(self) -> dict[str, float]:
        """Of the clauses kept apart, by sort, the part that lies nearest to a taught clause of its meaning."""
        torch = self.model.torch
        with torch.no_grad():
            known, new = (
                torch.cat(
                    [
                        self.model.encode([self._pieces(one, False) for one in some[at : at + 512]])
                        for at in range(0, len(some), 512)
                    ]
                )
                for some in (self.taught, self.apart)
            )
            nearest = (new @ known.T).argmax(1).tolist()
        right: dict[str, list[bool]] = defaultdict(list)
        for one, at in zip(self.apart, nearest, strict=True):
            sort = "answer" if one.question else next(iter(one.keys)).partition(":")[0]
            right["told" if "=" in sort else sort].append(bool(one.keys & self.taught[at].keys))
        return {sort: round(sum(hits) / len(hits), 3) for sort, hits in sorted(right.items())}


def main(folder: str) -> None:
    """Teach and write."""
    from tokenizers import Tokenizer

    tokenizer = Tokenizer.from_file(str(FOLDER / "word-pieces.json"))
    tokenizer.enable_truncation(_LENGTH)
    model = Model(FOLDER / "net.onnx")
    _compare(model, tokenizer, FOLDER / "net.onnx")
    teaching = Teaching(model, tokenizer, list(items()))
    print(f"{len(teaching.taught)} clauses, {len(teaching.apart)} kept apart: {teaching.found()}", flush=True)
    teaching.run(STEPS)
    print(teaching.found(), flush=True)
    made = Path(folder) / "net.onnx"
    model.write(made)
    _compare(model, tokenizer, made)
    whole = made.read_bytes()
    if len(whole) > PIECE:
        made.unlink()
        for at in range(0, len(whole), PIECE):
            (Path(folder) / f"net.onnx.{at // PIECE}").write_bytes(whole[at : at + PIECE])


def _compare(model: Model, tokenizer: Any, path: Path) -> None:
    """Print how near the model in eight bits is to that of PyTorch."""
    import onnxruntime

    session = onnxruntime.InferenceSession(str(path), providers=["CPUExecutionProvider"])
    for words in ("the outdoor fan won't spin", "where do my leads go"):
        pieces = tokenizer.encode(words)
        rows = {"input_ids": pieces.ids, "attention_mask": pieces.attention_mask, "token_type_ids": pieces.type_ids}
        feed = {name: np.array([row], np.int64) for name, row in rows.items()}
        with model.torch.no_grad():
            mine = model.encode([pieces])[0].cpu().numpy()
        print(f'"{words}": {float(session.run(None, feed)[0][0] @ mine):.3f} alike', flush=True)


if __name__ == "__main__":
    main(sys.argv[1])
