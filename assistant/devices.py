"""The sound card's library, loaded only when a sound device is really wanted."""

from __future__ import annotations

import atexit
import contextlib
import ctypes
import os
import sys
import threading
from collections import deque
from collections.abc import Iterator
from functools import lru_cache
from types import ModuleType
from typing import Any

from assistant.errors import LaddersideError

#: A device that is there closes in a few hundredths of a second.
_CLOSING_S = 2.0


class SoundDeviceError(LaddersideError):
    """No sound device can be used; the text says why and what to do instead."""


def sound_library() -> ModuleType:
    """The ``sounddevice`` module. SoundDeviceError when PortAudio itself is missing."""
    try:
        with quiet_stderr():
            import sounddevice
    except (OSError, ImportError) as error:
        raise SoundDeviceError(
            "The PortAudio library is missing; install it with: apt install libportaudio2. "
            "Until then use `ladderside replay` or `ladderside type`."
        ) from error
    _hush_alsa()
    module: ModuleType = sounddevice
    return module


def there_is(name: str, way: str) -> bool:
    """Whether there is a device of this name for "input" or "output"."""
    return name_of(name, way) is not None


def name_of(device: int | str | None, way: str) -> str | None:
    """The name of a device given by number or a part of its name; None when there is no such device or library."""
    try:
        sound = sound_library()
        with quiet_stderr():
            return str(sound.query_devices(device, way)["name"])
    except (SoundDeviceError, ValueError):
        return None
    except Exception as error:  # PortAudioError is known only once the library is there
        if type(error).__name__ == "PortAudioError":
            return None
        raise


def lasting(device: int | str | None, way: str) -> int | str | None:
    """A device that was given by its number, by its name: what is unplugged comes back under another number.

    Where the name fits several devices only the number tells them apart.
    """
    name = name_of(device, way) if isinstance(device, int) else None
    return name if name is not None and there_is(name, way) else device


@lru_cache(maxsize=1)
def _hush_alsa() -> None:
    """On a busy machine ALSA tells the terminal of every block that came late; nobody on a ladder can use that."""
    with contextlib.suppress(OSError, AttributeError):
        alsa = ctypes.CDLL("libasound.so.2")
        alsa.snd_lib_error_set_handler(_NOTHING)


#: C calls it as long as the program lives, with a text and its values.
_NOTHING = ctypes.CFUNCTYPE(None, ctypes.c_char_p, ctypes.c_int, ctypes.c_char_p, ctypes.c_int, ctypes.c_char_p)(
    lambda *words: None
)


class StreamTimes:
    """When each sample of a stream is in the air, by the clock that all devices of the sound library share.

    A device tells the time of each block, a few hundredths of a second wrong now and then; samples come at their
    rate. The median of what the last blocks say joins the two: between loudspeaker and microphone it was right to
    2 ms, where the order in which blocks arrive was wrong by up to 100 ms (PulseAudio, PortAudio 19.6).
    """

    def __init__(self, rate: int) -> None:
        self.rate = rate
        self._count = 0
        self._starts: deque[float] = deque(maxlen=60)

    def note(self, samples: int, when_s: float) -> None:
        """A block of so many samples begins at ``when_s``. May be called from a sound thread."""
        self._starts.append(when_s - self._count / self.rate)
        self._count += samples

    def start_s(self) -> float:
        """The clock's time of the stream's first sample; 0 before any block."""
        starts = sorted(self._starts)
        return starts[len(starts) // 2] if starts else 0.0


#: Streams that are open: the library can look for devices anew only when there is none.
_open: set[int] = set()


def opened(stream: Any) -> Any:
    """``stream``, which is open from now on until ``close_stream``."""
    _open.add(id(stream))
    return stream


def look_again() -> None:
    """Notice devices that were plugged in: PortAudio lists them once, when it starts."""
    if _open:
        return
    sound = sound_library()
    with quiet_stderr(), contextlib.suppress(sound.PortAudioError):
        sound._terminate()
        sound._initialize()


def close_stream(stream: Any) -> None:
    """Closes a stream of ``sounddevice``, and gives up when the library hangs on it.

    PortAudio waits for ever for a sound server that has died; nobody shall have to kill a visit for that.
    """

    def close() -> None:
        with quiet_stderr():
            stream.close(ignore_errors=True)

    _open.discard(id(stream))
    closing = threading.Thread(target=close, daemon=True)
    closing.start()
    closing.join(_CLOSING_S)
    if closing.is_alive():
        # Its clean-up at the program's end would wait as well.
        atexit.unregister(sound_library()._exit_handler)


@contextlib.contextmanager
def quiet_stderr() -> Iterator[None]:
    """Silence what C libraries print: ALSA writes a page of its own notes on a machine without a sound card."""
    try:
        stderr = sys.stderr.fileno()
    except (OSError, ValueError, AttributeError):  # replaced by a test or closed: nothing to silence
        yield
        return
    sys.stderr.flush()
    kept = os.dup(stderr)
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, stderr)
        yield
    finally:
        os.dup2(kept, stderr)
        os.close(kept)
        os.close(nowhere)
