"""``ladderside visit``: the live path on a real sound device, and the clear words when there is none."""

import json
import os
import signal
import subprocess
import sys
import threading
from pathlib import Path
from queue import Empty, Queue

from tests.soundcard import sound_card

__all__ = ["sound_card"]

ROOT = Path(__file__).parents[2]
CLIPS = ROOT / "recordings_synthetic" / "crossed-terminals" / "clips"


def lines_of(stream):
    """A queue that fills with the stream's lines as they come."""
    queue = Queue()
    threading.Thread(target=lambda: [queue.put(line) for line in stream], daemon=True).start()
    return queue


def next_turn(queue, seconds=60):
    try:
        return json.loads(queue.get(timeout=seconds))
    except Empty:
        raise AssertionError("the visit said nothing more") from None


def test_spoken_answers_in_the_air_lead_the_visit(sound_card, home):
    visit = subprocess.Popen(
        [sys.executable, "-m", "assistant", "visit", "--json"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        cwd=ROOT,
        env={**os.environ, "LADDERSIDE_HOME": str(home), "PULSE_SERVER": sound_card.server},
    )
    try:
        queue = lines_of(visit.stdout)
        assert next_turn(queue)["question"] == "visit.site"
        # The first words are still in the air (and in this microphone): a person waits for them, or talks over them.
        threading.Event().wait(12)
        sound_card.play(CLIPS / "02-visit-profile-1.flac").wait()
        heard = next_turn(queue)
        assert heard["heard"]["ears"], heard
        assert heard["question"] == "visit.profile"
        threading.Event().wait(10)
        sound_card.play(CLIPS / "02-visit-profile-1.flac").wait()
        chosen = next_turn(queue)
        assert chosen["heard"]["meaning"] == {"kind": "finding", "choice": "copper-wren-solo"}, chosen
        assert chosen["question"] == "visit.indication"
    finally:
        visit.send_signal(signal.SIGINT)
        _, errors = visit.communicate(timeout=60)
    assert "Traceback" not in errors
    record = json.loads(next((home / "records").glob("*/record.json")).read_text())
    assert record["unit"] == "Copper Wren Solo"
    assert record["origin"] == "microphone"


def test_without_a_sound_device_one_sentence_names_the_two_other_ways(ladderside, tmp_path, monkeypatch):
    monkeypatch.setenv("PULSE_SERVER", f"unix:{tmp_path}/nothing")
    done = ladderside("visit")
    if done.returncode == 0:
        return  # this machine has a sound card of its own
    assert done.returncode == 2
    assert "ladderside replay" in done.stderr
    assert "ladderside type" in done.stderr
    assert "Traceback" not in done.stderr
    assert len(done.stderr.strip().splitlines()) == 1
