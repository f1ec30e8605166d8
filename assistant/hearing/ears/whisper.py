"""The free-text ear: Whisper tiny.en through CTranslate2.

The model was made for windows of 30 s, and encoding so much costs a second. A window as long as the utterance is
encoded ten times faster, but then the text turns in a circle ("Yes. Yes. Yes."): nothing tells the decoder that
silence follows. So the encoding of silence, made once, is put behind the encoding of the utterance up to 30 s. On
42 spoken numbers of the AN4 dev set that took the circles from 34 to 1 at no cost of time, and the whole text right
from 4 to 37. What circles are left are cut, and where it may be one or two rounds, both are proposed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import ctranslate2
import numpy as np
import tokenizers
from numpy.typing import NDArray

from assistant.data import weights
from assistant.hearing.ears.mel import log_mel
from assistant.hearing.ears.protocol import Hypothesis
from assistant.hearing.ears.repeats import first_rounds
from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from assistant.language.spelling import spellings
from assistant.language.state_grammar import StateGrammar

_Array = NDArray[np.float32]
#: Encoder output of an utterance, shape (1, positions, width).
Encoded = _Array | None

#: Positions of the encoder, 20 ms each: 30 s.
_POSITIONS = 1500
_POSITION_S = 0.02
#: Positions of silence behind the utterance when strings are scored: there nothing can turn in a circle.
_SCORED_SILENCE = 50
#: Silence encoded with the utterance itself, so that its end sounds like an end.
_TAIL_S = 0.3
#: Longest utterance heard.
_LONGEST_S = 28.0
#: Log-mel value of silence behind speech of usual level: 8 below the peak, after Whisper's scaling (x + 4) / 4.
_SILENCE = -0.75
#: Tokens that can be said in a second, and those that any utterance may have: fast digits are 5 a second.
_TOKENS_A_SECOND = 5
_TOKENS_ANYWAY = 8
#: Hypotheses followed and given. Of 84 synthetic numbers in fan noise of 8 dB the right one is among three 71 times and
#: the only one 61 times, for a tenth more time.
_BEAM = 4
#: More than this chance of no speech, or less than this log probability a token, is noise and not words.
_NO_SPEECH = 0.6
_WORST_TOKEN = -3.0
#: After these it writes numbers out in words, digit by digit where they are said so, instead of guessing at numerals:
#: 52 of 64 readings of twelve natural synthetic voices right instead of 46.
_NUMBERS = "One five two, zero four oh seven. Ten point four, sixty one."
#: Tokens of the state's prompt that are used; more would cost time and mislead.
_PROMPT_TOKENS = 64


@dataclass(frozen=True)
class Tokens:
    """Ids of the model's special tokens."""

    start: int
    end: int
    prompt: int
    no_times: int


class WhisperEar:
    """A Recognizer.

    ``log_probability`` of its hypotheses is the sum over tokens, the end of text included; one that was cut has its
    share of the whole.
    """

    name = "whisper"

    def __init__(self, folder: Path | None = None, threads: int = 1) -> None:
        folder = weights.folder_of(weights.WHISPER, folder)
        self._model = ctranslate2.models.Whisper(
            str(folder), device="cpu", compute_type="int8", intra_threads=threads, inter_threads=1
        )
        self._tokenizer = tokenizers.Tokenizer.from_file(str(folder / "tokenizer.json"))
        self._tokens = Tokens(
            *(self._special(name) for name in ("startoftranscript", "endoftext", "startofprev", "notimestamps"))
        )
        self._before: list[int] = []
        self.prepare_words("")
        self._silence = self._encode(np.full((self._model.n_mels, 2 * _POSITIONS), _SILENCE, dtype=np.float32))

    def prepare(self, grammar: StateGrammar) -> None:
        """Puts the state's words before what is said, and numbers in words where a number may begin the answer."""
        graph = grammar.graph
        numbers = any(word == "seven" and source == graph.start for source, word, _ in graph.arcs)
        self.prepare_words(f"{_NUMBERS} {grammar.prompt}" if numbers else grammar.prompt)

    def prepare_words(self, prompt: str) -> None:
        """Puts ``prompt`` before what is said."""
        words = self._tokenizer.encode(" " + prompt, add_special_tokens=False).ids if prompt else []
        past = [self._tokens.prompt, *words[-_PROMPT_TOKENS:]] if words else []
        task = [self._special("en"), self._special("transcribe")] if self._model.is_multilingual else []
        self._before = [*past, self._tokens.start, *task, self._tokens.no_times]

    def hear(self, audio: Audio) -> tuple[Hypothesis, ...]:
        """What was said as text with Whisper's own spelling; empty for silence and noise."""
        return self.propose(self.listen(audio))

    def listen(self, audio: Audio) -> Encoded:
        """The encoder's view of the utterance, for ``propose`` and ``score``; None when there is no sound in it."""
        audio = audio[: int(_LONGEST_S * SAMPLE_RATE)]
        if not np.any(audio):
            return None
        padded = np.concatenate([audio, np.zeros(int(_TAIL_S * SAMPLE_RATE), dtype=np.float32)])
        features = log_mel(padded, self._model.n_mels)
        return self._encode(features[:, : features.shape[1] // 2 * 2])

    def score(self, spoken: Encoded, strings: Sequence[str]) -> list[float]:
        """Log probability of each of ``strings`` (grammar words) for what was heard, had Whisper to write just that.

        After the state's prompt, as in ``propose``, and so on the scale of its hypotheses. Numbers in words:
        that prompt makes it write them so.
        """
        if spoken is None or not strings:
            return [0.0] * len(strings)
        behind = self._silence[:, spoken.shape[1] : spoken.shape[1] + _SCORED_SILENCE]
        window = np.concatenate([spoken, behind], axis=1)
        view = ctranslate2.StorageView.from_array(np.ascontiguousarray(window))
        return [self._score_one(view, window.shape[1], spellings(words)[0]) for words in strings]

    def _score_one(self, view: ctranslate2.StorageView, positions: int, text: str) -> float:
        """One after the other: together they take three times the memory and no less time."""
        tokens = self._tokenizer.encode(f" {text}", add_special_tokens=False).ids
        before = self._before[:-1]  # CTranslate2 adds the token that says "no times" itself
        (forced,) = self._model.align(view, before, [tokens], [2 * positions])
        return float(np.log(np.maximum(forced.text_token_probs, 1e-9)).sum())

    def propose(self, spoken: Encoded) -> tuple[Hypothesis, ...]:
        """Decodes what ``listen`` gave."""
        if spoken is None:
            return ()
        result = self._decode(spoken)
        if result.no_speech_prob > _NO_SPEECH:
            return ()
        heard: dict[str, Hypothesis] = {}
        for tokens, a_token in zip(result.sequences_ids, result.scores, strict=True):
            pieces = [self._tokenizer.decode([token]) for token in tokens]
            ended = len(tokens) < self._most(spoken)
            for length in first_rounds(pieces, ended) if a_token > _WORST_TOKEN else ():
                text = self._tokenizer.decode(tokens[:length]).strip()
                if text:
                    whole = ended and length == len(tokens)
                    heard.setdefault(text, Hypothesis(text, a_token * (length + 1), self.name, whole=whole))
        return tuple(heard.values())

    def _most(self, spoken: _Array) -> int:
        """Tokens that can have been said in this time."""
        return _TOKENS_ANYWAY + int(_TOKENS_A_SECOND * (spoken.shape[1] * _POSITION_S - _TAIL_S))

    def _special(self, name: str) -> int:
        token = self._tokenizer.token_to_id(f"<|{name}|>")
        if token is None:
            raise weights.ModelError(
                f"The Whisper model's tokenizer has no token <|{name}|>; name another model folder."
            )
        return token

    def _decode(self, spoken: _Array) -> ctranslate2.models.WhisperGenerationResult:
        whole = np.concatenate([spoken, self._silence[:, spoken.shape[1] :]], axis=1)
        return self._model.generate(
            ctranslate2.StorageView.from_array(np.ascontiguousarray(whole)),
            [self._before],
            beam_size=_BEAM,
            num_hypotheses=_BEAM,
            max_length=len(self._before) + self._most(spoken),
            return_scores=True,
            return_no_speech_prob=True,
        )[0]

    def _encode(self, features: _Array) -> _Array:
        """Encoder output, shape (1, frames // 2, width), of features of shape (mels, frames)."""
        view = ctranslate2.StorageView.from_array(np.ascontiguousarray(features[None], dtype=np.float32))
        return np.array(self._model.encode(view, to_cpu=True))
