"""A typed visit on a disk that fills up: told with what is live, tried again, and nothing of it is lost."""

import json
import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from assistant.visit.reading import JournalReader

ROOT = Path(__file__).parents[2]


@pytest.fixture
def small_disk(tmp_path):
    """A folder on a disk of its own of 600 kB; where no disk can be made there is nothing to show."""
    folder = tmp_path / "disk"
    folder.mkdir()
    made = os.geteuid() == 0 and shutil.which("mount") is not None
    if not made or subprocess.run(["mount", "-t", "tmpfs", "-o", "size=600k", "tmpfs", folder]).returncode:
        pytest.skip("no disk can be made here")
    yield folder
    subprocess.run(["umount", "-l", folder], check=True)


class Typed:
    def __init__(self, home, *words):
        self._process = subprocess.Popen(
            [sys.executable, "-m", "assistant", "type", "--json", *words],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            cwd=ROOT,
            env={**os.environ, "LADDERSIDE_HOME": str(home)},
        )
        self.first = self._turn()

    def _turn(self):
        return json.loads(self._process.stdout.readline())

    def say(self, words):
        self._process.stdin.write(words + "\n")
        self._process.stdin.flush()
        return self._turn()

    def end(self):
        self._process.stdin.close()
        self._process.stdout.read()
        return self._process.wait(timeout=60)


def fill(folder):
    """Take what is left of the disk, to the last byte; gives it back with ``unlink``."""
    rest = folder / "rest"
    with rest.open("wb", buffering=0) as file:
        for size in (65536, 4096, 512, 1):
            try:
                while True:
                    file.write(bytes(size))
            except OSError:
                continue
    return rest


def test_a_full_disk_is_told_and_the_same_words_count_when_there_is_room(small_disk):
    typed = Typed(small_disk / "home")
    assert typed.say("mill lane")["question"] == "visit.profile"
    rest = fill(small_disk)
    told = {}
    for _ in range(60):  # the write-ahead file has some room of its own
        told = typed.say("copper wren silo")
        if "trouble" in told:
            break
    assert "database or disk is full" in told["trouble"]
    assert told["says"] == ["Count the unit as live."]
    assert "trouble" in typed.say("copper wren solo")
    rest.unlink()
    time.sleep(0.1)
    after = typed.say("copper wren solo")
    assert after["question"] == "visit.indication"
    assert typed.end() == 0
    with JournalReader(small_disk / "home" / "journal.sqlite") as journal:
        assert journal.visits()[0].standing.unit == "Copper Wren Solo"
        assert journal.notices == []


def test_who_gives_up_is_told_the_first_error_and_resumes_later(small_disk):
    typed = Typed(small_disk / "home")
    typed.say("mill lane")
    rest = fill(small_disk)
    for _ in range(60):
        if "trouble" in typed.say("copper wren silo"):
            break
    assert typed.end() == 2
    rest.unlink()
    again = Typed(small_disk / "home", "--resume")
    assert again.first["question"] == "visit.profile"
    assert again.end() == 0


def test_who_presses_ctrl_c_twice_has_the_record_all_the_same(monkeypatch):
    from assistant.commands import shared

    written: list[int] = []
    nobody: Any = (None, None, None)

    def write(*_):
        os.kill(os.getpid(), signal.SIGINT)
        written.append(1)

    monkeypatch.setattr(shared, "write_record", write)
    before = signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell's background work has it ignored
    try:
        with pytest.raises(KeyboardInterrupt, match="first"), shared.record_at_the_end(*nobody):
            raise KeyboardInterrupt("first")
        assert written
        with pytest.raises(KeyboardInterrupt):
            os.kill(os.getpid(), signal.SIGINT)
    finally:
        signal.signal(signal.SIGINT, before)
