"""The free-text ear: Whisper tiny.en through CTranslate2.

A window as long as the utterance makes the encoder three to five times faster than the usual 30 s and brings endless
repetition ("Yes. Yes. Yes."). So decoding stops at a number of tokens that nobody outruns in that time, and the text
is cut where it begins to turn in a circle; where it may be one or two rounds, both are proposed.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import ctranslate2
import numpy as np
import tokenizers
from faster_whisper.feature_extractor import FeatureExtractor
from numpy.typing import NDArray

from assistant.hearing import models
from assistant.hearing.protocol import SAMPLE_RATE, Audio, Hypothesis, StateGrammar
from assistant.hearing.repeats import first_rounds

#: Silence behind the utterance: without it the last word is lost.
_TAIL_S = 0.6
#: Longest utterance heard: the model's own window.
_LONGEST_S = 30.0 - _TAIL_S
#: Tokens that can be said in a second, and those that any utterance may have: fast digits are 5 a second.
_TOKENS_A_SECOND = 5
_TOKENS_ANYWAY = 6
#: More than this chance of no speech, or less than this log probability a token, is noise and not words.
_NO_SPEECH = 0.6
_WORST_TOKEN = -1.5
#: Tokens of the state's prompt that are used; more would cost time and mislead.
_PROMPT_TOKENS = 48


@dataclass(frozen=True)
class Tokens:
    """Ids of the model's special tokens."""

    start: int
    end: int
    prompt: int
    no_times: int


class WhisperEar:
    """A Recognizer. ``log_probability`` of its hypotheses is the sum over tokens, the end of text included."""

    name = "whisper"

    def __init__(self, folder: Path | None = None, threads: int = 1) -> None:
        folder = models.whisper_folder(folder)
        self._model = ctranslate2.models.Whisper(
            str(folder), device="cpu", compute_type="int8", intra_threads=threads, inter_threads=1
        )
        self._tokenizer = tokenizers.Tokenizer.from_file(str(folder / "tokenizer.json"))
        self._tokens = Tokens(
            *(self._special(name) for name in ("startoftranscript", "endoftext", "startofprev", "notimestamps"))
        )
        self._features = FeatureExtractor(feature_size=self._model.n_mels)
        self._before: list[int] = []
        self.prepare_words("")

    def prepare(self, grammar: StateGrammar) -> None:
        """Puts the state's words before what is said."""
        self.prepare_words(grammar.prompt)

    def prepare_words(self, prompt: str) -> None:
        """Puts ``prompt`` before what is said."""
        words = self._tokenizer.encode(" " + prompt, add_special_tokens=False).ids if prompt else []
        past = [self._tokens.prompt, *words[-_PROMPT_TOKENS:]] if words else []
        task = [self._special("en"), self._special("transcribe")] if self._model.is_multilingual else []
        self._before = [*past, self._tokens.start, *task, self._tokens.no_times]

    def _special(self, name: str) -> int:
        token = self._tokenizer.token_to_id(f"<|{name}|>")
        if token is None:
            raise models.ModelError(f"The Whisper model's tokenizer has no token <|{name}|>; name another model folder.")
        return token

    def hear(self, audio: Audio) -> tuple[Hypothesis, ...]:
        """What was said as text with Whisper's own spelling; empty for silence and noise."""
        audio = audio[: int(_LONGEST_S * SAMPLE_RATE)]
        if not np.any(audio):
            return ()
        result = self._decode(audio)
        tokens = list(result.sequences_ids[0])
        chances = [_log_softmax(step) for step in result.logits[0]]
        if result.no_speech_prob > _NO_SPEECH or not tokens:
            return ()
        rounds = first_rounds([self._tokenizer.decode([token]) for token in tokens], len(chances) > len(tokens))
        heard = []
        for length in rounds:
            score = sum(float(chances[at][tokens[at]]) for at in range(length))
            if length < len(chances):
                score += float(chances[length][self._tokens.end])
            text = self._tokenizer.decode(tokens[:length]).strip()
            if text and score / (length + 1) > _WORST_TOKEN - 2:
                heard.append(Hypothesis(text, score, self.name))
        return tuple(heard)

    def _decode(self, audio: Audio) -> ctranslate2.models.WhisperGenerationResult:
        seconds = len(audio) / SAMPLE_RATE
        padded = np.concatenate([audio, np.zeros(int(_TAIL_S * SAMPLE_RATE), dtype=np.float32)])
        features = self._features(padded, padding=0)
        features = features[:, : features.shape[1] // 2 * 2]
        window = ctranslate2.StorageView.from_array(np.ascontiguousarray(features[None], dtype=np.float32))
        most = len(self._before) + _TOKENS_ANYWAY + int(_TOKENS_A_SECOND * seconds)
        return self._model.generate(
            window,
            [self._before],
            beam_size=1,
            max_length=most,
            return_scores=True,
            return_logits_vocab=True,
            return_no_speech_prob=True,
        )[0]


def _log_softmax(logits: ctranslate2.StorageView) -> NDArray[np.float32]:
    values = np.asarray(logits, dtype=np.float32).reshape(-1)
    values = values - values.max()
    return np.asarray(values - np.log(np.exp(values).sum()))
