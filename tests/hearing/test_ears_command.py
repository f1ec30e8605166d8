"""``ladderside ears`` as its user runs it: nothing is said to work that was not tried."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


def ears(home, *words, **environment):
    """Runs the command in an environment of its own."""
    return subprocess.run(
        [sys.executable, "-m", "assistant", "ears", *words],
        capture_output=True,
        text=True,
        cwd=ROOT,
        env={**os.environ, "LADDERSIDE_HOME": str(home), **environment},
        timeout=300,
    )


def by_name(report):
    return {trial["name"]: trial for group in ("voice", "ears", "devices") for trial in report[group]}


def test_with_a_sound_device_everything_is_proved(sound_card, tmp_path):
    done = ears(tmp_path, "--json")
    assert done.returncode == 0, done.stdout
    report = json.loads(done.stdout)
    trials = by_name(report)
    for name in ("whisper", "moonshine", "phoneme", "all"):
        assert trials[name]["works"], trials[name]
        assert "heard “" in trials[name]["proof"]
    assert trials["espeak-ng"]["works"]
    assert "gave 1 s" in trials["microphone"]["proof"]
    assert "said “Ready.”" in trials["loudspeaker"]["proof"]
    assert "gmw/en-us" in report["voices"]
    assert "default" in report["microphones"]
    assert "default" in report["loudspeakers"]


@pytest.mark.usefixtures("no_sound_card")
def test_without_a_sound_device_the_ears_still_work_and_the_rest_says_what_to_do(tmp_path):
    done = ears(tmp_path)
    assert done.returncode == 0, done.stdout
    lines = {line.split()[0]: line for line in done.stdout.splitlines() if line.startswith("  ")}
    assert "works" in lines["all"]
    for device in ("microphone", "loudspeaker"):
        assert "not here" in lines[device]
        assert "ladderside replay" in lines[device]
    assert "microphones: none" in done.stdout


@pytest.mark.usefixtures("no_sound_card")
def test_a_broken_model_fails_with_its_remedy(tmp_path):
    done = ears(tmp_path, "--json", LADDERSIDE_WHISPER=str(tmp_path))
    assert done.returncode == 2
    trials = by_name(json.loads(done.stdout))
    assert not trials["whisper"]["works"]
    assert str(tmp_path) in trials["whisper"]["proof"]
    assert not trials["all"]["works"]
    assert trials["phoneme"]["works"]
