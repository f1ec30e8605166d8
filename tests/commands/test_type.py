"""``ladderside type``: a whole visit by keyboard, cut short anywhere, resumed at the same question."""

import json
import os
import signal
import subprocess
import sys
import time
from io import StringIO
from pathlib import Path
from typing import Any, cast

import pytest

from assistant.visit.transcript import Transcript

ROOT = Path(__file__).parents[2]

#: Whatever the checks are, these words fit: a beginning, then one check after the other skipped or asked about.
LINES = ["the bakery", "copper wren solo", "leaf lamp blinks slowly", "why", "skip", "what is left", "skip", "go back"]


def turns(output: str) -> list[dict]:
    return [json.loads(line) for line in output.splitlines()]


def test_a_visit_begins_answers_and_leaves_a_record(ladderside, home):
    done = ladderside("type", "--hurry", "--json", input="\n".join(LINES))
    assert done.returncode == 0, done.stderr
    *talk, end = turns(done.stdout)
    assert [turn["question"] for turn in talk[:4]][:3] == ["visit.site", "visit.profile", "visit.indication"]
    assert all(turn["says"] for turn in talk)
    assert end["closed"] is False
    record = json.loads(Path(end["record"][1]).read_text())
    assert record["site"] == "the bakery"
    assert record["unit"]["name"] == "Copper Wren Solo"
    assert [line["text"] for line in record["transcript"] if line["who"] == "technician"] == LINES


#: `python -m tests.campaign kills` tries hundreds of instants; here the first, one in the middle and the last.
@pytest.mark.parametrize("cut", [1, len(LINES) // 2, len(LINES)])
def test_killed_after_any_answer_it_resumes_at_the_same_question(ladderside, home, cut):
    environment = {**os.environ, "LADDERSIDE_HOME": str(home)}
    visit = subprocess.Popen(
        [sys.executable, "-m", "assistant", "type", "--hurry", "--json"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        cwd=ROOT,
        env=environment,
    )
    last = json.loads(visit.stdout.readline())
    for line in LINES[:cut]:
        visit.stdin.write(line + "\n")
        visit.stdin.flush()
        last = json.loads(visit.stdout.readline())
    os.kill(visit.pid, signal.SIGKILL)
    visit.wait()
    again = ladderside("type", "--hurry", "--json", "--resume")
    assert again.returncode == 0, again.stderr
    resumed, end = turns(again.stdout)
    assert resumed["question"] == last["question"]
    assert resumed["energy"] == last["energy"]
    record = json.loads(Path(end["record"][1]).read_text())
    assert [line["text"] for line in record["transcript"] if line["who"] == "technician"] == LINES[:cut]


def test_finish_closes_the_visit_and_a_closed_one_is_not_resumed(ladderside):
    done = ladderside("type", "--json", input="mill lane\ncopper wren solo\nfinish\nyes\nno note\n")
    end = turns(done.stdout)[-1]
    assert end["closed"] is True
    again = ladderside("type", "--resume", end["visit"])
    assert again.returncode == 2
    assert "is closed" in again.stderr
    assert "Traceback" not in again.stderr


def test_a_reading_out_of_range_is_refused_and_said_again(ladderside):
    lines = ["mill lane", "copper wren solo", "leaf lamp blinks slowly", "check prove it dead", "locked"]
    lines += ["understood", "both zero", "nine thousand volts", "four volts", "still good"]
    done = ladderside("type", "--hurry", "--json", input="\n".join(lines))
    *talk, _ = turns(done.stdout)
    refused = [turn for turn in talk if turn["heard"] and turn["heard"]["words"] == "nine thousand volts"]
    assert refused, [turn["question"] for turn in talk]
    assert refused[0]["question"] == "prove-dead.voltage"
    assert any(verdict["check"] == "prove-dead" for verdict in talk[-1]["verdicts"])
    assert talk[-1]["energy"] == "proved-dead"


def test_a_wait_at_the_keyboard_gives_a_sign_of_life_and_ends_by_itself(ladderside, home, tmp_path, monkeypatch):
    """At a terminal nobody has to press a key to hear that the wait is over."""
    import pty

    from assistant.commands import type as typing

    class Waits:
        """A visit that waits for so long."""

        def __init__(self):
            self.state, self.clock = type("State", (), {"wait_until_s": 0.25, "held": False})(), self
            self.began, self.context = time.monotonic(), type("Context", (), {"library": None})()

        def now_s(self):
            return time.monotonic() - self.began

    keys, screen = pty.openpty()
    out = StringIO()
    monkeypatch.setattr(typing, "SIGN_OF_LIFE_S", 0.1)
    with os.fdopen(screen) as stdin:
        monkeypatch.setattr(sys, "stdin", stdin)
        assert not typing.comes(cast(Any, Waits()), Transcript(out))
        assert "Still waiting, " in out.getvalue()
        os.write(keys, b"twelve\n")
        assert typing.comes(cast(Any, Waits()), Transcript(out))
        assert stdin.readline() == "twelve\n"
    os.close(keys)


def test_who_begins_another_visit_is_told_which_are_open_with_site_and_power(ladderside, home):
    ladderside("type", "--hurry", input="the bakery\ncopper wren solo\n")
    locked = "mill lane\nyes\ncopper wren solo\nleaf lamp blinks slowly\nprove it dead\nlocked\n"
    done = ladderside("type", "--hurry", input=locked)
    told = [line for line in done.stderr.splitlines() if " is open: " in line]
    assert len(told) == 1
    assert "is open: the bakery, power is on; --resume " in told[0]
    told = [line for line in ladderside("type", "--hurry", input="").stderr.splitlines() if " is open: " in line]
    assert ["mill lane, locked out" in told[0], "the bakery, power is on" in told[1]] == [True, True]
    listed = ladderside("visits").stdout
    assert "open, power is on" in listed
    assert "Left isolated and locked, not proved dead." in listed
    resumed = ladderside("type", "--resume", input="")
    assert " is open: " not in resumed.stderr


def test_of_many_open_visits_three_are_named_and_the_last_is_said(tmp_path, capsys):
    from datetime import datetime

    from assistant.commands.opened import name_open_visits
    from assistant.dialogue.facts import Noted
    from assistant.messages.catalogue import catalogue
    from assistant.visit.journal import Journal
    from assistant.visit.standing import Standing

    with Journal(tmp_path / "journal.sqlite") as journal:
        assert name_open_visits(journal) is None
        for number in range(5):
            visit = journal.open_visit(datetime(2026, 3, 4), "typed")
            stands = Standing(site=f"site {number}", energy="isolated" if number == 4 else "live")
            journal.append(visit, datetime(2026, 3, 4), 0.0, [Noted(topic="site", value="x")], standing=stands)
        left_open = name_open_visits(journal)
        assert left_open is not None
        assert catalogue().words(left_open, None) == "Visits are open, the last one: site 4, locked out."
    errors = capsys.readouterr().err
    assert errors.count(" is open: ") == 3
    assert "and 2 more" in errors
