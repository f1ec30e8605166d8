"""The interview by voice: what is sure is taken, what is not is asked, and our own voice is not an answer."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from assistant.hearing.sound.audio import Utterance
from assistant.hearing.sound.frames import Frame
from assistant.language.interpret import interpret
from assistant.language.meaning import Expectation, Heard
from assistant.library.loader import Library
from assistant.profiling.aloud import Aloud
from assistant.profiling.draft import Draft
from assistant.speaking.clearly import Noise
from assistant.speaking.signs import Sign


class Said:
    """A reply that is over, or one that is still being said."""

    def __init__(self, text: str, done: bool) -> None:
        self.text, self.done = text, done
        self.stopped = False

    def stop(self) -> None:
        self.stopped = True

    def wait(self, timeout_s: float | None = None) -> bool:
        return True


class FakeVoice:
    def __init__(self, done: bool = True) -> None:
        self.pace = self.volume = 1.0
        self.beside: Noise | None = None
        self.said: list[Said] = []
        self._done = done

    def say(self, text: str) -> Said:
        self.said.append(Said(text, self._done))
        return self.said[-1]

    def give_sign(self, sign: Sign) -> None: ...

    def close(self) -> None: ...


class FakeEars:
    """Hears the next of ``lines`` for each utterance, in the state it was told to expect."""

    def __init__(self, lines: list[tuple[str, str]]) -> None:
        self.lines = lines
        self.expected: list[Expectation] = []

    def expect(self, expectation: Expectation) -> None:
        self.expected.append(expectation)

    def judge(self, utterance: Utterance) -> Heard:
        words, trust = self.lines.pop(0)
        meaning = interpret(words, self.expected[-1]).meaning
        return Heard.model_validate({"words": words, "meaning": meaning, "trust": trust})


class EachFrame:
    """Every frame is an utterance."""

    def feed(self, frame: Frame) -> list[Utterance]:
        return [Utterance(np.zeros(512, dtype=np.float32), frame.end_s - 0.1, frame.end_s)]


def _run(library: Library, lines: list[tuple[str, str]], voice: FakeVoice | None = None) -> tuple[Draft, FakeVoice]:
    draft, voice = Draft.begin(library), voice or FakeVoice()
    frames = [Frame(np.zeros(512, dtype=np.float32), number * 0.032) for number in range(len(lines))]
    printed: list[str] = []
    assert not Aloud(draft, FakeEars(lines), EachFrame(), voice, printed.append).run(frames)
    return draft, voice


@pytest.fixture(autouse=True)
def home(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("LADDERSIDE_HOME", str(tmp_path))


def test_what_is_sure_is_taken_and_read_back(library: Library) -> None:
    draft, voice = _run(library, [("willow bend", "sure"), ("duo nine", "sure")])
    assert draft.interview.answers == {"make": "willow bend", "model": "duo nine"}
    assert [said.text for said in voice.said[:3]] == ["What make is it?", "willow bend.", "What model?"]


def test_what_is_not_sure_is_asked(library: Library) -> None:
    draft, voice = _run(
        library, [("willow end", "confirm"), ("no", "sure"), ("willow bend", "confirm"), ("yes", "sure")]
    )
    assert draft.interview.answers == {"make": "willow bend"}
    assert "I heard willow end, right?" in [said.text for said in voice.said]


def test_what_was_not_understood_changes_nothing(library: Library) -> None:
    draft, voice = _run(library, [("mumble", "again")])
    assert draft.interview.answers == {}
    assert voice.said[-1].text.startswith("I did not get that.")


def test_our_own_voice_is_no_answer(library: Library) -> None:
    draft, voice = _run(library, [("what make is it", "confirm"), ("willow bend", "sure")], FakeVoice(done=False))
    assert draft.interview.answers == {"make": "willow bend"}
    assert voice.said[0].stopped  # a sure answer breaks in


def test_its_own_words_are_no_answer_however_surely_heard(library: Library) -> None:
    """It said "..., right?" and must not hear itself say so."""
    draft, _ = _run(library, [("willow bend", "sure"), ("what model", "sure")], FakeVoice(done=False))
    assert draft.interview.answers == {"make": "willow bend"}


def test_the_same_words_when_it_is_silent_are_an_answer(library: Library) -> None:
    draft, _ = _run(library, [("willow bend", "sure"), ("what model", "sure")])
    assert draft.interview.answers == {"make": "willow bend", "model": "what model"}
