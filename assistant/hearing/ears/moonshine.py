"""The second free-text ear: Moonshine tiny (English) through ONNX Runtime.

Its encoder takes the bare samples for as long as they last, without a 30 s window, so an utterance is heard in a tenth
of Whisper's time, and it was trained apart from Whisper: the two seldom make the same mistake. It hears without the
steady noise (``denoise.py`` tells why Whisper does not).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

import numpy as np
import onnxruntime
from numpy.typing import NDArray

from assistant.data import weights
from assistant.hearing.ears.protocol import Hypothesis
from assistant.hearing.ears.repeats import first_rounds
from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from assistant.hearing.sound.denoise import denoise
from assistant.language.spelling import spellings
from assistant.language.state_grammar import StateGrammar

_Floats = NDArray[np.float32]
#: The decoder's memory of the tokens before: keys and values of each layer, by the name under which they are fed.
_Past = dict[str, _Floats]

_START, _END = 1, 2
_NEVER = 1 << 30
#: Width of a head of the decoder's attention, and their number.
_HEADS, _WIDTH = 8, 36
#: Longest utterance heard; the encoder needs a little sound to make anything of.
_LONGEST_S = 28.0
_SHORTEST_S = 0.1
#: Tokens that can be said in a second (its makers' limit, which also ends circles), and those any utterance may have.
_TOKENS_A_SECOND = 6.5
_TOKENS_ANYWAY = 6
#: Hypotheses followed and given.
_BEAM = 4
#: Behind the likeliest whole text by more than this, nothing is followed any more.
_MOST_BEHIND = 4.0
#: Tokens scored at once, in how many texts soever: 0.13 MB each, twice where two threads do.
_TOKENS_AT_ONCE = 64
#: The vocabulary, 32,768 pieces, is searched in blocks of so many.
_BLOCK = 64
#: Less than this log probability a token is noise and not words.
_WORST_TOKEN = -3.0


@dataclass(frozen=True)
class Encoded:
    """The encoder's view of an utterance of ``seconds``, and the decoder's first step over it.

    ``states``: shape (1, positions, width); ``first``: logits of the first token, shape (1, vocabulary); ``past``: of
    one row, its keys and values of the encoder serving any number of rows.
    """

    states: _Floats
    seconds: float
    first: _Floats
    past: _Past


class MoonshineEar:
    """A Recognizer that also scores words. ``log_probability`` is the sum over tokens, the end of text included."""

    name = "moonshine"

    def __init__(self, folder: Path | None = None, threads: int = 1) -> None:
        folder = weights.folder_of(weights.MOONSHINE, folder)
        self._encoder = _session(folder / "encoder_model.ort", threads)
        self._decoder = _session(folder / "decoder_model_merged.ort", threads)
        self._pieces = _read_pieces(folder / "tokenizer.bin")
        self._ids = {piece: number for number, piece in enumerate(self._pieces)}
        self._fed = [each.name for each in self._decoder.get_inputs() if each.name.startswith("past_key_values")]
        self._given = [each.name for each in self._decoder.get_outputs()]

    def prepare(self, grammar: StateGrammar) -> None:
        """It takes no hint of what may be said."""

    def hear(self, audio: Audio) -> tuple[Hypothesis, ...]:
        """What was said as text with Moonshine's own spelling; empty for silence and noise."""
        return self.propose(self.listen(audio))

    def listen(self, audio: Audio) -> Encoded | None:
        """The encoder's view of the utterance, for ``propose`` and ``score``; None when there is no sound in it."""
        audio = audio[: int(_LONGEST_S * SAMPLE_RATE)]
        if len(audio) < _SHORTEST_S * SAMPLE_RATE or not np.any(audio):
            return None
        samples = denoise(audio)[None]
        everywhere = np.ones(samples.shape, dtype=np.int64)
        states = self._encoder.run(None, {"input_values": samples, "attention_mask": everywhere})[0]
        nothing = dict.fromkeys(self._fed, np.zeros((1, _HEADS, 0, _WIDTH), dtype=np.float32))
        logits, past = self._run(states, np.array([[_START]], dtype=np.int64), nothing)
        return Encoded(states, len(audio) / SAMPLE_RATE, logits[:, -1], past)

    def propose(self, spoken: Encoded | None) -> tuple[Hypothesis, ...]:
        """Decodes what ``listen`` gave: beam search."""
        if spoken is None:
            return ()
        heard: dict[str, Hypothesis] = {}
        for tokens, chance, ended in self._search(spoken):
            a_token = chance / (len(tokens) + 1)
            pieces = [self._text([token]) for token in tokens]
            lengths = [len(tokens)] if ended else first_rounds(pieces, ended)
            for length in lengths if a_token > _WORST_TOKEN else ():
                text = self._text(tokens[:length]).strip()
                if text:
                    heard.setdefault(text, Hypothesis(text, a_token * (length + 1), self.name, whole=ended))
        return tuple(heard.values())

    def score(self, spoken: Encoded | None, strings: Sequence[str]) -> list[float]:
        """Log probability of each of ``strings`` (grammar words) for what was heard, had it to write just that.

        It writes "four point two", "4.2" or, of single digits, "four, two", as it likes: the likeliest spelling counts.
        """
        if spoken is None or not strings:
            return [0.0] * len(strings)
        ways = [spellings(words) for words in strings]
        chances = iter(self._chances(spoken, [text for texts in ways for text in texts]))
        return [max(next(chances) for _ in texts) for texts in ways]

    def _chances(self, spoken: Encoded, texts: Sequence[str]) -> list[float]:
        """Log probability of each text, its end included; a few at a time, for each token has 32,768 rivals."""
        tokens = [self._tokens(text) for text in texts]
        told = [0.0] * len(tokens)
        waiting = sorted(range(len(tokens)), key=lambda index: -len(tokens[index]))  # of like length: less is padded
        while waiting:
            few = max(1, _TOKENS_AT_ONCE // (1 + len(tokens[waiting[0]])))
            together, waiting = waiting[:few], waiting[few:]
            for index, chance in zip(together, self._chances_of(spoken, [tokens[i] for i in together]), strict=True):
                told[index] = chance
        return told

    def _chances_of(self, spoken: Encoded, tokens: Sequence[Sequence[int]]) -> list[float]:
        fed = np.full((len(tokens), max(map(len, tokens))), _END, dtype=np.int64)
        for row, each in zip(fed, tokens, strict=True):
            row[: len(each)] = each
        logits, _ = self._step(spoken, fed, _of_rows(spoken.past, np.zeros(len(tokens), dtype=np.int64)))
        begun = spoken.first[0] - _log_sum(spoken.first)[0]
        told = []
        for row, each in zip(logits, tokens, strict=True):
            first, *others = [*each, _END]
            follows = row[: len(each)]
            told.append(float(begun[first] + (follows[range(len(others)), others] - _log_sum(follows)).sum()))
        return told

    def _search(self, spoken: Encoded) -> list[tuple[list[int], float, bool]]:
        """Likeliest token strings, their log probability and whether they came to their own end."""
        most = _TOKENS_ANYWAY + int(_TOKENS_A_SECOND * spoken.seconds)
        going: list[tuple[list[int], float]] = [([], 0.0)]
        ended: list[tuple[list[int], float]] = []
        logits, past = spoken.first, spoken.past
        while True:
            so_far = np.array([chance for _, chance in going], dtype=np.float32)
            sums = logits + (so_far - _log_sum(logits))[:, None]
            rows: list[int] = []
            followed: list[tuple[list[int], float]] = []
            for place in largest(sums.ravel(), 2 * _BEAM):
                row, token = divmod(int(place), sums.shape[1])
                chance = float(sums[row, token])
                if token == _END:
                    ended.append((going[row][0], chance))
                elif len(followed) < _BEAM:
                    followed.append(([*going[row][0], token], chance))
                    rows.append(row)
            going = followed
            ended.sort(key=lambda each: -each[1])
            if len(going[0][0]) == most or _is_over(ended, going[0][1]):
                break
            last = np.array([[tokens[-1]] for tokens, _ in going], dtype=np.int64)
            all_logits, past = self._step(spoken, last, _of_rows(past, np.array(rows)))
            logits = all_logits[:, -1]
        found = [(tokens, chance, True) for tokens, chance in ended[:_BEAM]]
        return found or [(tokens, chance, False) for tokens, chance in going[:1]]

    def _step(self, spoken: Encoded, fed: NDArray[np.int64], past: _Past) -> tuple[_Floats, _Past]:
        """Logits behind each of ``fed`` after its ``past``, shape (rows, tokens, vocabulary), and the new past."""
        logits, new = self._run(spoken.states, fed, past)
        return logits, {name: past[name] if ".encoder." in name else value for name, value in new.items()}

    def _run(self, states: _Floats, fed: NDArray[np.int64], past: _Past) -> tuple[_Floats, _Past]:
        """The decoder; where there is no past it also makes keys and values of the encoder's ``states``."""
        inputs = {
            "encoder_attention_mask": np.ones((len(fed), 1), dtype=np.int64),  # one for all positions: none is padding
            "input_ids": fed,
            "encoder_hidden_states": states,
            "use_cache_branch": np.array([past[self._fed[0]].shape[2] > 0]),
            **past,
        }
        given = dict(zip(self._given, self._decoder.run(None, inputs), strict=True))
        logits = given.pop("logits")
        return logits, {name.replace("present", "past_key_values"): value for name, value in given.items()}

    def _text(self, tokens: Sequence[int]) -> str:
        return b"".join(self._pieces[token] for token in tokens).decode("utf-8", "replace").replace("▁", " ")

    def _tokens(self, text: str) -> list[int]:
        """Byte-pair encoding as the model learnt it: neighbours that make a piece are joined, the commonest first.

        (The commoner a piece, the lower its number.)
        """
        pieces = [letter.encode() for letter in "▁" + text.replace(" ", "▁")]
        while True:
            joined = [self._ids.get(one + other, _NEVER) for one, other in pairwise(pieces)]
            at = min(range(len(joined)), key=joined.__getitem__, default=0)
            if not joined or joined[at] == _NEVER:
                return [self._ids[piece] for piece in pieces]
            pieces[at : at + 2] = [pieces[at] + pieces[at + 1]]


def _of_rows(past: _Past, rows: NDArray[np.int64]) -> _Past:
    """The past of these rows; what the decoder saw of the sound is one row for all."""
    return {name: value if ".encoder." in name else value[rows] for name, value in past.items()}


def _is_over(ended: Sequence[tuple[list[int], float]], going: float) -> bool:
    """Whether texts that go on, the best at ``going``, can add nothing to those that have ended, the best first."""
    if not ended:
        return False
    return ended[0][1] - going > _MOST_BEHIND or (len(ended) >= _BEAM and ended[_BEAM - 1][1] > going)


def largest(values: _Floats, count: int) -> NDArray[np.int64]:
    """Where the largest ``count`` of ``values`` stand, the largest first.

    They are in the blocks whose largest is largest: ten times as fast as one look at all values.
    """
    blocks = values.reshape(-1, _BLOCK)
    some = np.argpartition(blocks.max(axis=1), -count)[-count:]
    places = (some[:, None] * _BLOCK + np.arange(_BLOCK)).ravel()
    return np.asarray(places[np.argsort(-values[places])[:count]], np.int64)


def _log_sum(logits: _Floats) -> _Floats:
    """The logarithm of the sum of exponentials over the last axis."""
    peak = logits.max(axis=-1)
    below = logits - peak[..., None]
    return np.asarray(peak + np.log(np.exp(below, out=below).sum(axis=-1)))


def _session(file: Path, threads: int) -> onnxruntime.InferenceSession:
    options = onnxruntime.SessionOptions()
    options.intra_op_num_threads = threads
    options.inter_op_num_threads = 1
    options.enable_cpu_mem_arena = False  # utterances differ in length: an arena would keep the longest one's memory
    options.log_severity_level = 3
    return onnxruntime.InferenceSession(str(file), options, providers=["CPUExecutionProvider"])


def _read_pieces(file: Path) -> list[bytes]:
    """The pieces of text that tokens stand for: in the file each has its length (a byte) before it."""
    data = file.read_bytes()
    pieces, at = [], 0
    while at < len(data):
        end = at + 1 + data[at]
        pieces.append(data[at + 1 : end])
        at = end
    return pieces
