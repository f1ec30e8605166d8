"""The voice in the air: replies played one after the other, cut off within a few hundredths of a second."""

from __future__ import annotations

import threading
import time
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from typing import Any, TypeVar

import numpy as np
import soxr

from assistant.devices import SoundDeviceError, close_stream, opened, quiet_stderr, sound_library
from assistant.speaking.clearly import Noise
from assistant.speaking.signs import Sign, sound_of
from assistant.speaking.synthesis import RATE, Sound, rendered

#: What the device may hold back: short, so that "stop" is soon silence, yet no crackling on a busy machine.
_LATENCY_S = 0.08
_BLOCK_S = 0.02
#: Cut off over this, a voice does not click.
_FADE_S = 0.01
#: A device that has not asked for sound for this long while a reply waits has been unplugged; PulseAudio needs up to
#: two seconds to begin.
_LOST_AFTER_S = 5.0
#: So many blocks asked for in so much less than their time are in no air: PulseAudio does so for a tenth of a second,
#: or for ever, when a stream is opened again after it was cut off.
_HASTY, _HASTE = 16, 0.25
#: It does not begin at once; a reply said anew waits for so long.
_SETTLES_S = 0.3
#: How often a wait looks whether the device is still there.
_LOOK_S = 0.25

_Item = TypeVar("_Item")


class LoudspeakerError(SoundDeviceError):
    """No loudspeaker can be opened, or it went away."""


class Playing:
    """One reply on its way into the air. ``alive`` tells whether the device still takes sound."""

    def __init__(self, text: str, sound: Sound, alive: Callable[[], bool]) -> None:
        self.text = text
        self._sound, self._left, self._alive = sound, sound, alive
        self._over = threading.Event()
        self._complete = False

    @property
    def done(self) -> bool:
        """True when it has been said to its end or stopped."""
        return self._over.is_set()

    def stop(self) -> None:
        """Silence within the device's latency; what was not said yet is never said."""
        self._over.set()

    def wait(self, timeout_s: float | None = None) -> bool:
        """Wait until it is done; True when it was said to its end."""
        until = None if timeout_s is None else time.monotonic() + timeout_s
        while until is None or time.monotonic() < until:
            if self._over.wait(_LOOK_S if until is None else min(_LOOK_S, max(0.0, until - time.monotonic()))):
                break
            if not self._alive():
                self.stop()
        return self._complete

    def take(self, count: int, fade: int) -> Sound:
        """The next samples, at most ``count``; after ``stop`` one short fade, then none."""
        if self._over.is_set():
            last = self._left[:fade] * np.linspace(1, 0, len(self._left[:fade]), dtype=np.float32)
            self._left = self._left[:0]
            return last
        piece, self._left = self._left[:count], self._left[count:]
        return piece

    def rewind(self) -> None:
        """Say it from its beginning: nobody knows how much of what was taken has been in the air."""
        self._left = self._sound

    @property
    def empty(self) -> bool:
        """True when every sample has been taken."""
        return not len(self._left)

    def finish(self) -> None:
        """The last sample is in the air."""
        if not self._over.is_set():
            self._complete = True
            self._over.set()


class LoudspeakerVoice:
    """Plays through ``device`` (name, number, or None for the default).

    ``heard_by`` is called from the sound thread with every block that is played (float32), its rate, and when it will
    be in the air by the sound devices' clock, so that the ears can tell the assistant's own voice. LoudspeakerError
    when no device can be opened.
    """

    def __init__(
        self,
        device: int | str | None = None,
        pace: float = 1.0,
        heard_by: Callable[[Sound, int, float], None] | None = None,
    ) -> None:
        self.pace, self.volume = pace, 1.0
        self.beside: Noise | None = None
        self._device, self._heard_by = device, heard_by
        self._queue: deque[Playing] = deque()
        self._asked_at = self._settled_at = time.monotonic()
        self._asked: deque[float] = deque(maxlen=_HASTY)
        self._stream = self._open()

    def _open(self) -> Any:
        sound = sound_library()
        try:
            with quiet_stderr():
                about = sound.query_devices(self._device, "output")
        except (sound.PortAudioError, ValueError) as error:
            raise _no_loudspeaker("There is no loudspeaker on this machine") from error
        for rate in (RATE, round(about["default_samplerate"])):
            self.rate = rate  # known before the sound thread first asks
            try:
                with quiet_stderr():
                    stream = sound.OutputStream(
                        samplerate=rate,
                        blocksize=round(_BLOCK_S * rate),
                        device=self._device,
                        channels=1,
                        dtype="float32",
                        latency=_LATENCY_S,
                        callback=self._give,
                    )
                    stream.start()
                self._asked_at = time.monotonic()
                return opened(stream)
            except sound.PortAudioError:
                continue
        raise _no_loudspeaker(f'The loudspeaker "{about["name"]}" cannot be opened')

    def say(self, text: str) -> Playing:
        """Begin to say ``text`` after what is still being said. LoudspeakerError when the device went away."""
        sound = rendered(text, self.pace, self.beside, self.volume)
        if self.rate != RATE:
            sound = soxr.resample(sound, RATE, self.rate)
        playing = Playing(text, sound, self._alive)
        if not len(sound):
            playing.finish()
            return playing
        self._make_sure()
        self._queue.append(playing)
        return playing

    def give_sign(self, sign: Sign) -> None:
        """Let a sign sound after what is still being said. LoudspeakerError when the device went away."""
        self._make_sure()
        self._queue.append(Playing("", sound_of(sign, self.rate), self._alive))

    def _alive(self) -> bool:
        return bool(self._stream.active) and time.monotonic() - self._asked_at < _LOST_AFTER_S

    def looked_after(
        self, stream: Iterable[_Item], lost: Callable[[LoudspeakerError], None] | None = None
    ) -> Iterator[_Item]:
        """The items of ``stream`` (the frames of a microphone), with a look at the device between them.

        A device that takes no sound though a reply waits is opened again and the reply begun anew: who waits for the
        end of a reply that never comes would be deaf for ever. When it cannot be opened, what waits is given up and
        ``lost`` is told; without it LoudspeakerError.
        """
        for item in stream:
            if self.speaking:
                try:
                    self._make_sure()
                except LoudspeakerError as error:
                    if lost is None:
                        raise
                    self.stop()
                    lost(error)
            yield item

    def _make_sure(self) -> None:
        """A device that was unplugged and is back, or that stands still, is opened again."""
        if self._alive():
            return
        close_stream(self._stream)
        self._queue = deque(playing for playing in self._queue if not playing.done)
        for playing in self._queue:
            playing.rewind()
        self._settled_at = time.monotonic() + _SETTLES_S
        self._stream = self._open()

    def stop(self) -> None:
        """Be silent at once, with everything that was still to be said."""
        for playing in tuple(self._queue):
            playing.stop()

    @property
    def speaking(self) -> bool:
        """True while a reply is in the air or waits."""
        return any(not playing.done for playing in tuple(self._queue))

    def close(self) -> None:
        """Give the device back."""
        self.stop()
        close_stream(self._stream)

    def _give(self, out: Sound, count: int, when: Any, status: Any) -> None:
        if self._in_haste(count):
            out.fill(0)
            return
        self._asked_at = time.monotonic()
        block = self._next(count)
        out[:, 0] = block
        if self._heard_by is not None:
            self._heard_by(block, self.rate, when.outputBufferDacTime or when.currentTime)

    def _in_haste(self, count: int) -> bool:
        """Whether the device swallows what it is given."""
        self._asked.append(time.monotonic())
        took_s = self._asked[-1] - self._asked[0]
        return len(self._asked) == _HASTY and took_s < _HASTE * _HASTY * count / self.rate

    def _next(self, count: int) -> Sound:
        block = np.zeros(count, np.float32)
        if time.monotonic() < self._settled_at:
            return block
        filled = 0
        while self._queue and filled < count:
            playing = self._queue[0]
            piece = playing.take(count - filled, round(_FADE_S * self.rate))[: count - filled]
            block[filled : filled + len(piece)] = piece
            filled += len(piece)
            if playing.empty:
                playing.finish()
                self._queue.popleft()
        return block


def _no_loudspeaker(what: str) -> LoudspeakerError:
    return LoudspeakerError(
        f"{what}; plug in a loudspeaker or headset. Without one, `ladderside replay` writes what is said "
        "to a sound file and `ladderside type` prints it."
    )
