"""The ears together, with their real models, in states as a visit has them."""

from __future__ import annotations

import threading
from pathlib import Path

import numpy as np
import pytest

from assistant.hearing.ears.protocol import Hypothesis
from assistant.hearing.listening.default import EarError, default_ears
from assistant.hearing.listening.names import parts
from assistant.hearing.listening.one_ear import OneEar
from assistant.hearing.listening.together import EarsTogether
from assistant.hearing.sound.audio import SAMPLE_RATE, Audio, Utterance
from assistant.language.meaning import Choice, Command, Expectation, Finding, ReadingExpectation, Readings, Text
from assistant.language.state_grammar import StateGrammar
from assistant.measuring.noise import mix, noise
from tests.hearing.speech import spoken

VOLTS = Expectation(
    question="test.volts",
    topic="Volts AC.",
    reading=ReadingExpectation(quantity="voltage_ac", unit="V", plausible=(0, 500)),
)
FILTER = Expectation(
    question="test.filter",
    topic="The filter.",
    choices=(Choice(id="clean", phrases=("clean", "it is clean")), Choice(id="blocked", phrases=("blocked",))),
)


class Writes:
    """An ear that writes the same whatever it hears."""

    name = "writes"

    def __init__(self, words: str) -> None:
        self._words = words

    def prepare(self, grammar: StateGrammar) -> None: ...

    def hear(self, audio: Audio) -> tuple[Hypothesis, ...]:
        return (Hypothesis(self._words, -0.1, self.name),)


@pytest.fixture(scope="module")
def ears() -> EarsTogether:
    made = default_ears()
    assert isinstance(made, EarsTogether)
    return made


def said(audio: Audio, start_s: float = 0.0) -> Utterance:
    return Utterance(audio, start_s, start_s + len(audio) / SAMPLE_RATE)


def test_a_reading_that_several_ears_heard_is_sure(ears: EarsTogether) -> None:
    ears.expect(VOLTS)
    heard = ears.judge(said(spoken("two hundred forty volts"), 3.0))
    assert heard.trust == "sure"
    assert isinstance(heard.meaning, Readings)
    assert heard.meaning.items[0].value == 240
    assert dict(heard.ears).keys() == {"phoneme", "whisper", "moonshine"}
    assert heard.start_s == 3.0


def test_findings_and_commands_are_understood_in_the_same_state(ears: EarsTogether) -> None:
    ears.expect(FILTER)
    assert ears.judge(said(spoken("it is clean"))).meaning == Finding(choice="clean")
    repeat = ears.judge(said(spoken("repeat"))).meaning
    assert isinstance(repeat, Command)


def test_what_was_begun_early_is_not_heard_twice(ears: EarsTogether, monkeypatch: pytest.MonkeyPatch) -> None:
    ears.expect(VOLTS)
    calls: list[int] = []
    listen = ears.phoneme.listen
    monkeypatch.setattr(ears.phoneme, "listen", lambda audio: calls.append(len(audio)) or listen(audio))
    utterance = said(spoken("two hundred forty volts"))
    ears.begin(utterance)
    first = ears.judge(utterance)
    assert len(calls) == 1
    longer = said(np.pad(utterance.audio, (0, 1600)))
    assert ears.judge(longer).meaning == first.meaning
    assert len(calls) == 2


def test_the_same_in_gives_the_same_out(ears: EarsTogether) -> None:
    audio = mix(spoken("one eighteen volts"), noise("fan", 5, 0, len(spoken("one eighteen volts"))), 8)
    ears.expect(VOLTS)
    first = ears.judge(said(audio))
    ears.expect(FILTER)
    ears.judge(said(spoken("stop")))
    ears.expect(VOLTS)
    assert ears.judge(said(audio)) == first


@pytest.mark.parametrize("kind", ["fan", "pump", "white"])
def test_noise_alone_is_never_sure(ears: EarsTogether, kind: str) -> None:
    ears.expect(VOLTS)
    heard = ears.judge(said(noise(kind, 3, 0, 2 * SAMPLE_RATE) * np.float32(0.05)))
    assert heard.trust != "sure"


def test_silence_is_asked_again(ears: EarsTogether) -> None:
    ears.expect(VOLTS)
    heard = ears.judge(said(np.zeros(SAMPLE_RATE, dtype=np.float32)))
    assert (heard.trust, heard.meaning) == ("again", None)


def test_an_ear_that_hears_something_else_makes_it_ask(ears: EarsTogether) -> None:
    """Two independent ears are the safety: with the second one replaced by a liar, nothing is sure."""

    both = EarsTogether(ears.phoneme, Writes("four hundred ten volts"))
    both.expect(VOLTS)
    assert both.judge(said(spoken("two hundred forty volts"))).trust != "sure"


def test_what_was_only_nearly_written_is_told_in_the_words_of_the_grammar(ears: EarsTogether) -> None:
    both = EarsTogether(ears.phoneme, Writes("it is cleen"))
    both.expect(FILTER)
    heard = both.judge(said(spoken("it is clean")))
    assert (heard.meaning, heard.words) == (Finding(choice="clean"), "it is clean")


def test_the_ears_hear_at_the_same_time(ears: EarsTogether) -> None:
    """The second ear is already listening when the first one is."""
    both_in = threading.Barrier(2, timeout=20)

    class Slow:
        name = "slow"

        def prepare(self, grammar: StateGrammar) -> None: ...

        def hear(self, audio: Audio) -> tuple[Hypothesis, ...]:
            both_in.wait()
            return ()

    both = EarsTogether(ears.phoneme, Slow())
    both.expect(VOLTS)
    listen = both.phoneme.listen

    def listen_together(audio: Audio) -> object:
        both_in.wait()
        return listen(audio)

    both.phoneme.listen = listen_together  # type: ignore[method-assign, assignment]
    try:
        both.judge(said(spoken("stop")))
    finally:
        both.phoneme.listen = listen  # type: ignore[method-assign]


def test_one_ear_alone_only_ever_asks(ears: EarsTogether) -> None:
    alone = OneEar(ears.phoneme)
    alone.expect(VOLTS)
    heard = alone.judge(said(spoken("two hundred forty volts")))
    assert heard.trust == "confirm"
    assert isinstance(heard.meaning, Readings)


def test_an_unknown_ear_is_one_clear_sentence() -> None:
    with pytest.raises(EarError, match=r"no ear called “big”; choose all, whisper, moonshine, phoneme, vosk=FOLDER"):
        default_ears("big")


@pytest.mark.parametrize("name", ["whisper+moonshine", "both+phoneme", "phoneme+phoneme", "vosk+phoneme", ""])
def test_what_cannot_listen_together_is_refused(name: str) -> None:
    with pytest.raises(EarError, match="some joined by"):
        parts(name)


def test_an_ear_is_named_alone_together_or_with_a_folder() -> None:
    assert parts("all") == (("whisper", "moonshine", "phoneme"), None)
    assert parts("phoneme+moonshine") == (("moonshine", "phoneme"), None)
    assert parts("whisper=/models/big") == (("whisper",), Path("/models/big"))
    assert parts("vosk=/models/english") == (("vosk", "moonshine", "phoneme"), Path("/models/english"))


def test_free_words_are_those_of_a_writing_ear(ears: EarsTogether, monkeypatch: pytest.MonkeyPatch) -> None:
    """The phoneme ear makes commands and numbers of any sound; in noise it found this in a note of the repair."""
    found = (Hypothesis("no ten two i mean oh", -5.0, "phoneme"),)
    monkeypatch.setattr(ears.phoneme, "propose", lambda sounds: found)
    ears.expect(Expectation(question="test.note", topic="A note.", text=True))
    heard = ears.judge(said(spoken("moved the brown wire to the right terminal")))
    assert isinstance(heard.meaning, Text)
    assert "wire" in heard.words


def test_babble_and_signs_that_cannot_be_kept_end_no_turn(ears: EarsTogether) -> None:
    """Found by the campaign: a million signs hung the ears, half a pair of UTF-16 could not be written down."""
    babbling = EarsTogether(ears.phoneme, Writes("one " * 250_000), Writes("two hundred forty\ud800 volts"))
    babbling.expect(VOLTS)
    heard = babbling.judge(said(spoken("two hundred forty volts")))
    assert "\\ud800" not in heard.model_dump_json()
    assert all(len(words) < 100 for _, words in heard.ears)
