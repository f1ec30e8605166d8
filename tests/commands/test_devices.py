"""Sound devices by name: those used last are used again, and found again under whatever number they come back."""

from __future__ import annotations

from argparse import Namespace
from types import SimpleNamespace

import pytest

from assistant import devices
from assistant.commands import shared
from assistant.visit.paths import remembered


class Library(SimpleNamespace):
    """As sounddevice finds devices: by number, or by a part of the name that fits one alone."""

    class PortAudioError(Exception):
        pass

    def __init__(self, *names: str) -> None:
        super().__init__(names=list(names))

    def query_devices(self, device: int | str | None, way: str) -> dict[str, str]:
        if isinstance(device, int):
            if device >= len(self.names):
                raise self.PortAudioError("no such device")
            return {"name": self.names[device]}
        fitting = [name for name in self.names if device is None or device.lower() in name.lower()]
        if len(fitting) != 1:
            raise ValueError("none, or several")
        return {"name": fitting[0]}


@pytest.fixture
def plugged(monkeypatch: pytest.MonkeyPatch, tmp_path) -> Library:
    monkeypatch.setenv("LADDERSIDE_HOME", str(tmp_path))
    library = Library("built-in", "Headset Alder", "desk")
    monkeypatch.setattr(devices, "sound_library", lambda: library)
    return library


def named(microphone: str | None = None, loudspeaker: str | None = None) -> Namespace:
    return Namespace(microphone=microphone, loudspeaker=loudspeaker)


def test_what_was_named_once_is_used_again_until_it_is_gone(plugged, capsys):
    assert shared.devices(named()) == (None, None)
    args = named(microphone="alder", loudspeaker="2")
    assert shared.devices(args) == ("alder", "desk")
    shared.remember_devices(args)
    assert remembered() == {"microphone": "Headset Alder", "loudspeaker": "desk"}
    assert shared.devices(named()) == ("Headset Alder", "desk")
    assert shared.devices(named(microphone="built")) == ("built", "desk")
    plugged.names.remove("Headset Alder")
    capsys.readouterr()
    assert shared.devices(named()) == (None, "desk")
    assert "the microphone used last is not here (Headset Alder); the usual one is taken" in capsys.readouterr().err


def test_a_number_is_kept_as_a_name_for_it_may_come_back_under_another(plugged):
    assert shared.devices(named(microphone="1"))[0] == "Headset Alder"
    plugged.names.insert(0, "hdmi")
    assert devices.name_of("Headset Alder", "input") == "Headset Alder"


def test_of_two_that_are_called_the_same_the_number_counts(plugged):
    plugged.names[0] = "Headset Alder"
    assert shared.devices(named(microphone="1"))[0] == 1


def test_a_number_that_there_is_not_is_left_for_the_one_sentence(plugged):
    assert shared.devices(named(microphone="9"))[0] == 9
