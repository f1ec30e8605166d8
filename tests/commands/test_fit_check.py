"""``ladderside ears --try``: what it finds in good and bad sound, and what it then says."""

from __future__ import annotations

import contextlib
import json
from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pytest

from assistant.commands import fit_check
from assistant.commands.fit_check import LINES, Fit, Levels, Line, advice, check
from assistant.hearing.listening.default import default_ears
from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from assistant.hearing.sound.frames import AudioFrames
from assistant.speaking.clearly import Noise
from assistant.speaking.signs import Sign
from tests.hearing.speech import spoken


class Said:
    done = True

    def __init__(self, text: str) -> None:
        self.text = text

    def stop(self) -> None: ...

    def wait(self, timeout_s: float | None = None) -> bool:
        return True


class Silent:
    """A voice that has always said what it says."""

    def __init__(self) -> None:
        self.pace = self.volume = 1.0
        self.beside: Noise | None = None
        self.said: list[str] = []

    def say(self, text: str) -> Said:
        self.said.append(text)
        return Said(text)

    def give_sign(self, sign: Sign) -> None: ...

    def close(self) -> None: ...


def place(room_db: float, gain: float = 1.0, lines: tuple[str, ...] = ()) -> Audio:
    """The room alone, then each line in it, with pauses."""
    said = [spoken(words) for words in lines or [words for words, _ in LINES]]
    pause = np.zeros(round(1.2 * SAMPLE_RATE), np.float32)
    pieces = [np.zeros(round(4.5 * SAMPLE_RATE), np.float32)]
    for each in said:
        pieces += [pause, each * np.float32(gain), pause]
    whole = np.concatenate([*pieces, pause])
    noise = np.random.default_rng(7).standard_normal(len(whole)) * 10 ** (room_db / 20)
    return np.asarray(np.clip(whole + noise, -1, 1), np.float32)


@pytest.fixture(scope="module")
def ears():
    return default_ears()


def checked(ears, audio: Audio) -> tuple[Fit, Silent]:
    raw, voice = Levels(AudioFrames(audio)), Silent()
    return check(raw, raw, ears, voice, lambda text: None), voice


def test_a_good_headset_in_a_quiet_place_needs_nothing(ears) -> None:
    fit, voice = checked(ears, place(-65))
    assert [line.right for line in fit.lines] == [True, True, True]
    assert fit.room_db == pytest.approx(-65, abs=1)
    at_once = replace(fit, lines=tuple(replace(line, seconds=0.3) for line in fit.lines))  # whatever else runs here
    assert advice(at_once) == ()
    assert voice.said[0].startswith("This takes a minute.")
    assert voice.said[1:] == [f"Now say: {words}." for words, _ in LINES]


def test_a_line_that_came_out_otherwise_is_told(ears) -> None:
    fit, _ = checked(ears, place(-65, lines=("thirty degrees celsius", "two hundred ten volts", "where am i")))
    assert [line.right for line in fit.lines] == [True, False, True]
    told = " ".join(advice(fit))
    assert "For “two hundred forty volts” I heard “two hundred ten volts”." in told
    assert "`ladderside ears`" in told


def test_nobody_and_a_muted_microphone_are_told_apart(ears) -> None:
    muted, _ = checked(ears, np.zeros(30 * SAMPLE_RATE, np.float32))
    assert advice(muted)[0].startswith("Nothing at all")
    quiet = np.asarray(np.random.default_rng(3).standard_normal(30 * SAMPLE_RATE) * 1e-3, np.float32)
    assert advice(checked(ears, quiet)[0])[0].startswith("I heard the room and nobody in it.")


def found(voice_db: float = -30, room_db: float = -60, echo_db: float = -60, notes=(), seconds=0.3, right=True) -> Fit:
    return Fit(room_db, echo_db, tuple(Line(words, words, right, voice_db, notes, seconds) for words, _ in LINES))


@pytest.mark.parametrize(
    ("fit", "told"),
    [
        (found(), ""),
        (found(notes=("clipped",)), "Your voice overdrives the microphone. Move it away"),
        (
            found(voice_db=-62, room_db=-80, echo_db=-80, notes=("too quiet",)),
            "comes in too low. Set the",
        ),
        (found(room_db=-33), "as loud here as you are. Wear a headset"),
        (found(room_db=-42), "Bring the microphone nearer"),
        (found(echo_db=-20), "I hear myself louder than you. Wear a headset"),
        (found(echo_db=-40), ""),
        (found(seconds=2.2), "An answer takes 2.2 seconds"),
    ],
)
def test_each_trouble_is_told_with_what_to_change(fit: Fit, told: str) -> None:
    said = advice(fit)
    assert len(said) == bool(told)
    assert told in " ".join(said)


def test_what_is_printed_and_said_at_the_end(monkeypatch, capsys, ears) -> None:
    from assistant.commands import main

    voice = Silent()

    def opened(args) -> Iterator[object]:
        raw = Levels(AudioFrames(place(-65)))
        yield raw, raw, ears, voice

    monkeypatch.setattr(fit_check, "opened", contextlib.contextmanager(opened))
    monkeypatch.setattr(fit_check, "SLOW_S", 60.0)  # whatever else runs here
    assert main.main(["ears", "--try"]) == 0
    assert "Nothing to change." in capsys.readouterr().out
    assert voice.said[-1].endswith("Nothing to change.")
    assert main.main(["ears", "--try", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["change"] == []
    assert [line["right"] for line in told["lines"]] == [True, True, True]
