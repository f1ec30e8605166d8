"""The battery is told once when it runs low; what keeps the machine awake ends with the visit."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from assistant.visit import awake
from assistant.visit.awake import LOW_PERCENT, Awake, Battery


def supply(folder: Path, name: str, **values: str) -> Path:
    (folder / name).mkdir(exist_ok=True)
    for key, value in values.items():
        (folder / name / key).write_text(f"{value}\n")
    return folder / name


def test_it_is_told_once_and_again_after_charging(tmp_path):
    battery = Battery(tmp_path)
    supply(tmp_path, "AC", type="Mains", online="0")
    own = supply(tmp_path, "BAT0", type="Battery", status="Discharging", capacity="60")
    assert not battery.runs_low()
    (own / "capacity").write_text(str(LOW_PERCENT))
    assert battery.runs_low()
    assert not battery.runs_low()
    (own / "capacity").write_text("40")
    assert not battery.runs_low()
    (own / "capacity").write_text("3")
    assert battery.runs_low()


@pytest.mark.parametrize(
    "values",
    [
        {"type": "Battery", "status": "Charging", "capacity": "2"},
        {"type": "Battery", "status": "Discharging", "capacity": "2", "scope": "Device"},  # a wireless mouse
        {"type": "Battery", "status": "Discharging", "capacity": "unknown"},
        {"type": "Battery", "status": "Discharging"},
        {"type": "UPS", "status": "Discharging", "capacity": "2"},
    ],
)
def test_other_batteries_are_not_told(tmp_path, values):
    supply(tmp_path, "BAT0", **values)
    assert not Battery(tmp_path).runs_low()
    assert not Battery(tmp_path / "nothing").runs_low()


def test_what_keeps_it_awake_ends_with_it(monkeypatch):
    monkeypatch.setattr(awake, "keeping_awake", lambda: ["tail", f"--pid={os.getpid()}", "-f", os.devnull])
    with Awake() as kept:
        keeper = kept.keeper
        assert keeper.poll() is None
    assert keeper.poll() is not None


def test_a_machine_that_has_no_way_is_left_alone(monkeypatch):
    for command in ([], ["/nowhere/systemd-inhibit"], ["false"]):
        monkeypatch.setattr(awake, "keeping_awake", lambda command=command: command)
        with Awake():
            pass


@pytest.mark.skipif(sys.platform != "linux", reason="the command of Linux")
def test_the_command_waits_for_this_process(monkeypatch):
    monkeypatch.setattr("shutil.which", lambda name: f"/usr/bin/{name}")
    command = awake.keeping_awake()
    assert command[0] == "/usr/bin/systemd-inhibit"
    waits = command[command.index("tail") :]
    assert waits[1] == f"--pid={os.getpid()}"
    ends = subprocess.run(["tail", "--pid=999999999", "-f", os.devnull], timeout=20)
    assert ends.returncode == 0
