"""The microphone as a stream of frames, the same that a file gives."""

from __future__ import annotations

import queue
from collections.abc import Iterator
from dataclasses import replace
from types import TracebackType
from typing import Any

import numpy as np
import soxr

from assistant.devices import SoundDeviceError, StreamTimes, close_stream, opened, quiet_stderr, sound_library
from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from assistant.hearing.sound.frames import FRAME, Frame, Framer

#: What the device may keep for us when the machine is busy; sound that is taken in time comes no later for it.
_KEPT_S = 0.5
#: A device that has sent nothing for this long has been unplugged or has died; before its first sound it may wake up,
#: as a headset without a cable does.
_LOST_AFTER_S = 2.0
_WAKES_IN_S = 10.0
_INSTEAD = "`ladderside replay` plays a recorded visit and `ladderside type` takes typed answers."


class NoMicrophone(SoundDeviceError):
    """There is no microphone that can be opened."""


class MicrophoneLost(SoundDeviceError):
    """The microphone stopped sending while it was in use."""


class Microphone:
    """Opens ``device`` (name, number, or None for the system's default) and gives its frames until closed.

    A device that cannot work at 16 kHz is opened at its own rate and converted. NoMicrophone when none can
    be opened; iteration raises MicrophoneLost when it is unplugged. ``overruns`` counts frames that the
    system dropped because they were not taken in time.
    """

    def __init__(self, device: int | str | None = None) -> None:
        self.overruns = 0
        self._pieces: queue.SimpleQueue[Audio | None] = queue.SimpleQueue()
        self._closing = False
        self._stream, self.name = self._open(device)
        self._convert = soxr.ResampleStream(self.rate, SAMPLE_RATE, 1, dtype="float32", quality="MQ")

    def _open(self, device: int | str | None) -> tuple[Any, str]:
        sound = sound_library()
        try:
            with quiet_stderr():
                about = sound.query_devices(device, "input")
        except (sound.PortAudioError, ValueError) as error:
            wanted = "There is no microphone" if device is None else f"There is no microphone called “{device}”"
            raise NoMicrophone(f"{wanted} on this machine; plug one in. Without one, {_INSTEAD}") from error
        for rate in (SAMPLE_RATE, round(about["default_samplerate"])):
            self.rate = rate  # known before the sound thread first calls
            self._times = StreamTimes(rate)
            try:
                with quiet_stderr():
                    stream = sound.InputStream(
                        samplerate=rate,
                        blocksize=FRAME * rate // SAMPLE_RATE,
                        device=device,
                        channels=1,
                        dtype="float32",
                        latency=_KEPT_S,
                        callback=self._take,
                        finished_callback=self._ended,
                    )
                    stream.start()
                return opened(stream), str(about["name"])
            except sound.PortAudioError:
                continue
        raise NoMicrophone(
            f'The microphone "{about["name"]}" cannot be opened; close other programs that use it. '
            f"Without one, {_INSTEAD}"
        )

    def _take(self, samples: Audio, frames: int, when: Any, status: Any) -> None:
        if status.input_overflow:
            self.overruns += 1
        # Some sound systems give no time with their blocks; then the block has just ended.
        began_s = when.inputBufferAdcTime or when.currentTime - frames / self.rate
        self._times.note(frames, began_s)
        self._pieces.put(samples[:, 0].copy())

    def _ended(self) -> None:
        self._pieces.put(None)

    def __iter__(self) -> Iterator[Frame]:
        framer = Framer()
        patience_s = _WAKES_IN_S
        while True:
            try:
                piece = self._pieces.get(timeout=patience_s)
            except queue.Empty:
                piece = None
            if self._closing:
                return
            if piece is None:
                raise MicrophoneLost(
                    f'The microphone "{self.name}" stopped sending; every answer so far is kept. '
                    "Plug it in again and start the visit again: it goes on at the same question."
                )
            patience_s = _LOST_AFTER_S
            if self.rate != SAMPLE_RATE:
                piece = self._convert.resample_chunk(piece)
            for frame in framer.cut(np.asarray(piece, np.float32)):
                yield replace(frame, in_air_s=self._times.start_s() + frame.start_s)

    def close(self) -> None:
        """Stop listening; an iteration that waits for sound ends."""
        if not self._closing:
            self._closing = True
            close_stream(self._stream)
            self._pieces.put(None)

    def __enter__(self) -> Microphone:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()
