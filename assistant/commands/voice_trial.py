"""Does the voice work here? It renders a phrase, and one word is really played."""

from __future__ import annotations

import numpy as np
import soxr

from assistant.commands.ear_trial import Trial, attempt
from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from assistant.hearing.sound.levels import level_db
from assistant.speaking.loudspeaker import LoudspeakerError, LoudspeakerVoice
from assistant.speaking.synthesis import DEFAULT_VOICE, RATE, SpeechError, synthesizer

_WORD = "Ready."


def voices() -> tuple[str, ...]:
    """The ids of the English voices; empty without espeak-ng."""
    try:
        return synthesizer().voices()
    except SpeechError:
        return ()


def phrase_for_ears(text: str) -> Audio:
    """``text`` spoken, at the ears' rate."""
    spoken: Audio = soxr.resample(synthesizer().render(text), RATE, SAMPLE_RATE)
    return np.asarray(spoken, np.float32)


def try_voice(text: str) -> Trial:
    """Renders ``text`` and looks at what came out."""

    def render() -> str:
        sound = synthesizer().render(text)
        return f"{DEFAULT_VOICE} said “{text}”: {len(sound) / RATE:.1f} s at {level_db(sound):.0f} dB of full scale"

    return attempt("espeak-ng", render)


def try_loudspeaker(device: int | str | None = None) -> Trial:
    """Says one word into the air."""

    def speak() -> str:
        voice = LoudspeakerVoice(device)
        try:
            if not voice.say(_WORD).wait(timeout_s=5.0):
                raise LoudspeakerError(f'The loudspeaker took "{_WORD}" but did not play it; try another device.')
        finally:
            voice.close()
        return f"said “{_WORD}” at {voice.rate} Hz"

    return attempt("loudspeaker", speak, wanted=False)
