"""A sound card for tests: a private PulseAudio daemon whose loudspeaker is its microphone.

Needs the Debian packages pulseaudio, libportaudio2 and libasound2-plugins (PortAudio reaches PulseAudio through
ALSA's pulse plugin). Works as root, without systemd, and touches no sound of the user: it has its own socket,
runs only while the fixture does, and is the only device that PortAudio then sees as "pulse" and "default".
"""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

_SETUP = """
load-module module-native-protocol-unix socket={folder}/socket auth-anonymous=1
load-module module-cli-protocol-unix socket={folder}/commands
load-module module-null-sink sink_name=air rate=48000
set-default-sink air
set-default-source air.monitor
"""


class SoundCard:
    """What is played into it is heard by every microphone that is opened on it."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self.server = f"unix:{folder}/socket"
        (folder / "setup.pa").write_text(_SETUP.format(folder=folder))
        self._daemon = subprocess.Popen(
            [
                *("pulseaudio", "-n", "-F", folder / "setup.pa", "--daemonize=no", "--use-pid-file=no"),
                *("--exit-idle-time=-1", "--disallow-exit=yes", f"--log-target=file:{folder}/log"),
            ],
            env={**os.environ, "XDG_RUNTIME_DIR": str(folder), "PULSE_RUNTIME_PATH": str(folder), "HOME": str(folder)},
        )

    def wait_until_ready(self) -> None:
        """Returns when the daemon answers; RuntimeError with its log when it died."""
        until = time.monotonic() + 20
        while self.control("info").returncode != 0:
            if self._daemon.poll() is not None or time.monotonic() > until:
                raise RuntimeError(f"PulseAudio did not start:\n{(self._folder / 'log').read_text()}")
            time.sleep(0.1)

    def control(self, *words: str) -> subprocess.CompletedProcess[str]:
        """Runs pactl on this daemon."""
        return subprocess.run(["pactl", f"--server={self.server}", *words], capture_output=True, text=True)

    def play(self, path: Path) -> subprocess.Popen[bytes]:
        """Plays a sound file into the air, in the background."""
        return subprocess.Popen(["paplay", f"--server={self.server}", str(path)])

    def air(self, block_s: float = 0.05) -> Air:
        """Somebody in the room who only listens."""
        return Air(self.server, block_s)

    def unplug(self) -> None:
        """Takes the device away; the daemon stays, as it does when a headset is pulled out."""
        self.control("unload-module", "module-null-sink")

    def plug_in(self) -> None:
        """Puts the device back."""
        self.control("load-module", "module-null-sink", "sink_name=air", "rate=48000")
        self.control("set-default-sink", "air")
        self.control("set-default-source", "air.monitor")

    def cut_off_loudspeakers(self) -> None:
        """Ends every stream of sound that is being played; the device stays, as after a loose contact."""
        with socket.socket(socket.AF_UNIX) as commands:
            commands.connect(str(self._folder / "commands"))
            for line in self.control("list", "short", "sink-inputs").stdout.splitlines():
                commands.sendall(f"kill-sink-input {line.split()[0]}\n".encode())
            while self.control("list", "short", "sink-inputs").stdout.strip():
                time.sleep(0.05)

    def stop(self) -> None:
        """Ends the daemon."""
        self._daemon.kill()
        self._daemon.wait()


class Air:
    """Hears what is in the air from its beginning on, so that a test can wait for what happens, not for a clock.

    ``heard_s`` is how much sound, not silence, there was; ``clock_s`` how long it has listened; ``pauses_s`` how long
    each silence was that sound has ended, to a block of ``block_s``.
    """

    _RATE = 8_000
    #: Below this peak it is silence, which in a null sink is nothing at all.
    _SILENCE = 30

    def __init__(self, server: str, block_s: float) -> None:
        self._block = round(self._RATE * block_s)
        self._recorder = subprocess.Popen(
            [
                *("parec", f"--server={server}", "--device=air.monitor", "--format=s16le", "--latency-msec=50"),
                *(f"--rate={self._RATE}", "--channels=1"),
            ],
            stdout=subprocess.PIPE,
        )
        self.heard_s = 0.0
        self.pauses_s: list[float] = []
        self.clock_s = 0.0
        self._quiet_s = 0.0
        self._changed = threading.Condition()
        self._listening = threading.Thread(target=self._listen, daemon=True)
        self._listening.start()

    def _listen(self) -> None:
        assert self._recorder.stdout is not None
        while len(block := self._recorder.stdout.read(2 * self._block)) == 2 * self._block:
            loud = bool(np.abs(np.frombuffer(block, np.int16).astype(int)).max() > self._SILENCE)
            seconds = self._block / self._RATE
            with self._changed:
                self.heard_s += loud * seconds
                self.clock_s += seconds
                if loud and self._quiet_s:
                    self.pauses_s.append(self._quiet_s)
                self._quiet_s = 0.0 if loud else self._quiet_s + seconds
                self._changed.notify_all()

    def wait_for_sound(self, more_s: float, patience_s: float) -> bool:
        """Returns once there was so much more sound than now, or false when there was not."""
        with self._changed:
            enough_s = self.heard_s + more_s
            return self._changed.wait_for(lambda: self.heard_s > enough_s, patience_s)

    def wait_for_quiet(self, seconds: float, patience_s: float = 120) -> None:
        """Returns once there was no sound for ``seconds``; by the sound's own count, however slow the machine."""
        with self._changed:
            assert self._changed.wait_for(lambda: self._quiet_s >= seconds, patience_s), "it never became quiet"

    def wait_for(self, seconds: float, patience_s: float = 120) -> None:
        """Returns when so much more of the air has gone by."""
        with self._changed:
            until_s = self.clock_s + seconds
            assert self._changed.wait_for(lambda: self.clock_s >= until_s, patience_s), "the sound card stands still"

    def close(self) -> None:
        """Listens no more."""
        self._recorder.kill()
        self._listening.join()
        self._recorder.wait()
        assert self._recorder.stdout is not None
        self._recorder.stdout.close()

    def __enter__(self) -> Air:
        return self

    def __exit__(self, *error: object) -> None:
        self.close()


def _look_again() -> None:
    """PortAudio lists devices once; make it list them again."""
    import sounddevice

    from assistant.devices import quiet_stderr

    with quiet_stderr():
        sounddevice._terminate()
        sounddevice._initialize()


@pytest.fixture
def sound_card(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[SoundCard]:
    """A running SoundCard that every device opened in the test goes to."""
    for program in ("pulseaudio", "pactl", "paplay", "parec"):
        if shutil.which(program) is None:
            pytest.skip(f"{program} is missing: apt install pulseaudio libasound2-plugins libportaudio2")
    card = SoundCard(tmp_path)
    try:
        card.wait_until_ready()
        monkeypatch.setenv("PULSE_SERVER", card.server)
        _look_again()
        yield card
    finally:
        card.stop()
        monkeypatch.undo()
        _look_again()


@pytest.fixture
def no_sound_card(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[None]:
    """A machine without any sound device."""
    import sounddevice

    monkeypatch.setenv("PULSE_SERVER", f"unix:{tmp_path}/nothing")
    _look_again()
    if len(sounddevice.query_devices()):
        pytest.skip("this machine has a sound card of its own")
    yield
    monkeypatch.undo()
    _look_again()
