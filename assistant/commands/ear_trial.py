"""Does it work here? Every ear hears a phrase, every device is opened: nothing is believed that was not tried."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass
from itertools import islice

import numpy as np

from assistant.data import weights
from assistant.devices import SoundDeviceError, quiet_stderr, sound_library
from assistant.errors import LaddersideError
from assistant.hearing.ears.moonshine import MoonshineEar
from assistant.hearing.ears.phoneme import PhonemeEar
from assistant.hearing.ears.vosk import VoskEar
from assistant.hearing.ears.whisper import WhisperEar
from assistant.hearing.listening.default import default_ears
from assistant.hearing.listening.one_ear import OneEar
from assistant.hearing.listening.together import EarsTogether
from assistant.hearing.sound.audio import SAMPLE_RATE, Audio, Utterance
from assistant.hearing.sound.frames import FRAME_S
from assistant.hearing.sound.levels import level_db
from assistant.hearing.sound.microphone import Microphone
from assistant.language.compare import meaning_key
from assistant.language.interpret import interpret
from assistant.language.meaning import Expectation, ReadingExpectation

#: What every ear is given to hear: a reading with a unit, which each of them makes out of espeak-ng's speech.
PHRASE = "thirty degrees celsius"
_QUESTION = Expectation(
    question="trial.temperature",
    reading=ReadingExpectation(quantity="temperature", unit="degC", plausible=(-40, 60)),
    topic="Temperature in degrees Celsius.",
)
#: Room kept around the phrase, as endpointing keeps it.
_MARGIN_S = 0.3
_LISTEN_S = 1.0
#: A real microphone has some noise of its own.
_MUTED_DB = -95.0


@dataclass(frozen=True)
class Trial:
    """``name`` was tried: ``works``, with one sentence of proof or, if not, of what to do. ``wanted``: is it needed?"""

    name: str
    works: bool
    proof: str
    wanted: bool = True
    seconds: float = 0.0


def attempt(name: str, prove: Callable[[], str], wanted: bool = True) -> Trial:
    """Runs ``prove``, which returns its proof or raises a LaddersideError that says what to do."""
    began = time.perf_counter()
    try:
        proof, works = prove(), True
    except LaddersideError as error:
        proof, works = str(error), False
    return Trial(name, works, proof, wanted, round(time.perf_counter() - began, 3))


class Misheard(LaddersideError):
    """An ear that runs but does not understand the phrase."""


def try_ears(phrase: Audio) -> tuple[Trial, ...]:
    """Each embedded ear, all together, and Vosk if a model is there. ``phrase``: PHRASE spoken, SAMPLE_RATE."""
    quiet = np.zeros(round(_MARGIN_S * SAMPLE_RATE), np.float32)
    audio: Audio = np.concatenate([quiet, phrase, quiet])
    return (
        attempt("whisper", lambda: _heard_by(OneEar(WhisperEar()), audio, _model(weights.WHISPER))),
        attempt(
            "moonshine",
            lambda: _heard_by(OneEar(MoonshineEar()), audio, _model(weights.MOONSHINE)),
        ),
        attempt("phoneme", lambda: _heard_by(OneEar(PhonemeEar()), audio, "model of the hama package")),
        attempt("all", lambda: _heard_by(default_ears(), audio, "all three, each checking the others")),
        attempt("vosk", lambda: _heard_by(OneEar(VoskEar()), audio, f"model {weights.vosk_folder()}"), wanted=False),
    )


def _model(packaged: weights.Packaged) -> str:
    return f"model {weights.folder_of(packaged)}"


def _heard_by(ears: OneEar | EarsTogether, audio: Audio, model: str) -> str:
    ears.expect(_QUESTION)
    began = time.perf_counter()
    heard = ears.judge(Utterance(audio, 0.0, len(audio) / SAMPLE_RATE))
    seconds = time.perf_counter() - began
    if meaning_key(heard.meaning) != meaning_key(interpret(PHRASE, _QUESTION).meaning):
        words = " / ".join(words for _, words in heard.ears) or heard.words
        raise Misheard(f"heard “{words}” for “{PHRASE}” ({model}); use a model for English.")
    return f"heard “{heard.words}” in {seconds:.2f} s ({model})"


def input_devices() -> tuple[str, ...]:
    """Names of everything that sound can be taken from; empty without a sound card or its library."""
    return _devices("max_input_channels")


def output_devices() -> tuple[str, ...]:
    """Names of everything that sound can be given to."""
    return _devices("max_output_channels")


def _devices(channels: str) -> tuple[str, ...]:
    try:
        with quiet_stderr():
            return tuple(str(each["name"]) for each in sound_library().query_devices() if each[channels] > 0)
    except SoundDeviceError:
        return ()


def try_microphone(device: int | str | None = None) -> Trial:
    """Opens the microphone and takes a second of sound from it."""

    def listen() -> str:
        with Microphone(device) as microphone:
            frames = list(islice(microphone, round(_LISTEN_S / FRAME_S)))
            db = level_db(np.concatenate([frame.audio for frame in frames]))
            how = "silent: is it muted?" if db < _MUTED_DB else f"the room is at {db:.0f} dB of full scale"
            return f'"{microphone.name}" gave {_LISTEN_S:.0f} s at {microphone.rate} Hz; {how}'

    return attempt("microphone", listen, wanted=False)
