"""No socket in any command: the kernel ends the process that asks for one, be it Python or a library's own code."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from assistant import offline

ROOT = Path(__file__).parents[2]
CLIP = ROOT / "recordings_synthetic" / "crossed-terminals"
pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="only Linux can forbid sockets")


def run(tmp_path, *words, input="", python=("-m", "tests.robust.sealed"), **environment):
    # With CI set the runtime of the models keeps quiet by itself, and nothing would be shown.
    kept = {name: value for name, value in os.environ.items() if name not in (*offline.SILENT, "CI")}
    home = {"HOME": str(tmp_path / "user"), "LADDERSIDE_HOME": str(tmp_path / "data"), "XDG_CACHE_HOME": ""}
    return subprocess.run(
        [sys.executable, *python, *words],
        input=input,
        capture_output=True,
        text=True,
        cwd=ROOT,
        env={**kept, **home, **environment},
        timeout=600,
    )


def left_behind(tmp_path):
    """Files in the user's home that are not ours."""
    return [str(file.relative_to(tmp_path)) for file in (tmp_path / "user").rglob("*") if file.is_file()]


ASKS = "import socket; from assistant import offline; assert offline.shut({how}); socket.socket(socket.{family})"


@pytest.mark.parametrize("family", ["AF_INET", "AF_INET6"])
def test_an_internet_socket_is_refused_by_the_kernel(tmp_path, family):
    done = run(tmp_path, python=("-c", ASKS.format(how="", family=family)))
    assert "PermissionError" in done.stderr


def test_a_sound_server_may_still_be_asked(tmp_path):
    assert run(tmp_path, python=("-c", ASKS.format(how="", family="AF_UNIX"))).returncode == 0


@pytest.mark.parametrize(("family", "local"), [("AF_INET", True), ("AF_INET6", True), ("AF_UNIX", False)])
def test_the_guard_of_these_tests_does_end_a_process(tmp_path, family, local):
    asks = ASKS.format(how=f"kill=True, local={local}", family=family)
    assert run(tmp_path, python=("-c", asks)).returncode == -signal.SIGSYS


def test_the_runtime_of_the_models_would_report_if_it_were_let(tmp_path):
    """Shows that the next tests look at the right thing; fails when the runtime changes its ways, to be looked at."""
    talks = "import os; [os.environ.pop(n, 0) for n in ('ORT_DISABLE_TELEMETRY',)]; import onnxruntime"
    run(tmp_path, python=("-c", talks))
    assert any("deviceid" in file for file in left_behind(tmp_path))


@pytest.mark.parametrize(
    "module", ["assistant.hearing.ears.moonshine", "assistant.commands.ear_trial", "recordings_synthetic"]
)
def test_whatever_is_imported_first_nothing_is_reported(tmp_path, module):
    done = run(tmp_path, python=("-c", f"import {module}, onnxruntime"))
    assert done.returncode == 0, done.stderr
    assert left_behind(tmp_path) == []


def test_the_ears_open_no_socket_but_the_sound_server(tmp_path):
    done = run(tmp_path, "--sound-server", "ears")
    assert done.returncode == 0, done.stdout + done.stderr
    assert "moonshine    works" in done.stdout
    assert not [file for file in left_behind(tmp_path) if "pulse" not in file]


def test_a_typed_visit_opens_no_socket(tmp_path):
    done = run(tmp_path, "type", input="understood\nmill lane\n")
    assert done.returncode == 0, done.stderr
    assert left_behind(tmp_path) == []


def test_a_replay_opens_no_socket_but_the_sound_server(tmp_path):
    clip = sorted((CLIP / "clips").iterdir())[0]
    done = run(tmp_path, "--sound-server", "replay", str(clip))
    assert done.returncode == 0, done.stdout + done.stderr
    assert "you" in done.stdout
    assert not [file for file in left_behind(tmp_path) if "pulse" not in file]
