"""A visit that crashes or hangs is run again by itself, and whoever wants to end it can."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from assistant.commands.watch import held_up_s, starved_s

ROOT = Path(__file__).parents[2]
pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot watch a child so")

PROGRAM = """
import os, signal, sys, time
from pathlib import Path
from assistant.commands import watch
from assistant.commands.main import COMMANDS
from assistant.commands.watch import watched
from assistant.errors import LaddersideError

runs = Path(sys.argv[1])
{also}

def visit(alive, again):
    number = len(list(runs.iterdir()))
    (runs / str(number)).write_text(f"{os.getpid()} {again}")
    for _ in range(3):
        alive.tell()
        time.sleep(0.05)
    {act}

try:
    raise SystemExit(watched(visit, silent_s=2.0))
except LaddersideError as error:
    print(error)
    raise SystemExit(2)
"""


def start(tmp_path, act, also=""):
    runs = tmp_path / "runs"
    runs.mkdir()
    return runs, subprocess.Popen(
        [sys.executable, "-c", PROGRAM.replace("{act}", act).replace("{also}", also), str(runs)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        cwd=ROOT,
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    )


def told(runs):
    return [(runs / str(number)).read_text().split()[1] for number in range(len(list(runs.iterdir())))]


def test_what_ends_of_itself_is_not_run_again(tmp_path):
    runs, program = start(tmp_path, "return 7")
    program.communicate(timeout=30)
    assert program.returncode == 7
    assert told(runs) == ["False"]


@pytest.mark.parametrize("crash", ["SIGSEGV", "SIGABRT", "SIGKILL", "SIGBUS"])
def test_a_crash_resumes_the_visit(tmp_path, crash):
    runs, program = start(tmp_path, f"return 0 if again else os.kill(os.getpid(), signal.{crash})")
    _, errors = program.communicate(timeout=30)
    assert program.returncode == 0
    assert told(runs) == ["False", "True"]
    assert "the visit goes on where it was" in errors


def test_a_hang_resumes_the_visit(tmp_path):
    runs, program = start(tmp_path, "return 0 if again else time.sleep(600)")
    program.communicate(timeout=30)
    assert program.returncode == 0
    assert told(runs) == ["False", "True"]


def test_who_is_not_let_by_a_busy_machine_does_not_hang(tmp_path):
    """As if it stood in the queue for the processor all the while that it says nothing."""
    held_up = "time.sleep(3) or 0"
    runs, program = start(
        tmp_path, f"return {held_up}", also="watch.starved_s = lambda pid: {'thread': time.monotonic()}"
    )
    program.communicate(timeout=30)
    assert program.returncode == 0
    assert told(runs) == ["False"]


def test_the_wait_for_the_processor_is_told_by_the_system():
    spinning = [subprocess.Popen([sys.executable, "-c", "while True: pass"]) for _ in range(2 * (os.cpu_count() or 1))]
    try:
        time.sleep(0.5)
        before = starved_s(spinning[0].pid)
        time.sleep(0.5)
        assert 0 < held_up_s(before, starved_s(spinning[0].pid)) < 5
    finally:
        for each in spinning:
            each.kill()
            each.wait()
    assert held_up_s({}, starved_s(spinning[0].pid)) == 0


def test_crash_after_crash_is_given_up_in_one_sentence(tmp_path):
    runs, program = start(tmp_path, "os.kill(os.getpid(), signal.SIGSEGV)")
    out, _ = program.communicate(timeout=30)
    assert program.returncode == 2
    assert told(runs) == ["False", "True", "True"]
    assert out.count("\n") == 1
    assert "every answer is kept" in out


def wait_for_a_run(runs):
    until = time.monotonic() + 20
    while not any(file.read_text() for file in runs.iterdir()):
        assert time.monotonic() < until
        time.sleep(0.05)
    return int(next(runs.iterdir()).read_text().split()[0])


@pytest.mark.parametrize("asked", [signal.SIGINT, signal.SIGTERM])
def test_who_ends_it_ends_it(tmp_path, asked):
    runs, program = start(tmp_path, "[(alive.tell(), time.sleep(0.1)) for _ in range(600)]")
    child = wait_for_a_run(runs)
    assert child != program.pid
    program.send_signal(asked)
    program.communicate(timeout=30)
    assert program.returncode != 0
    assert told(runs) == ["False"]
    with pytest.raises(ProcessLookupError):
        os.kill(child, 0)


def test_the_visit_does_not_outlive_its_watcher(tmp_path):
    runs, program = start(tmp_path, "[(alive.tell(), time.sleep(0.1)) for _ in range(600)]")
    child = wait_for_a_run(runs)
    program.kill()
    program.wait()
    until = time.monotonic() + 10
    while Path(f"/proc/{child}/stat").exists() and " Z " not in Path(f"/proc/{child}/stat").read_text():
        assert time.monotonic() < until, "it goes on without anybody who could stop it"
        time.sleep(0.05)
