"""A maintenance as it is heard: the recorded visit, with the minutes that such work takes."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.commands.test_replay import journal_of, replay

VISIT = Path(__file__).parents[2] / "recordings_synthetic" / "yearly-maintenance"
pytestmark = pytest.mark.slow


def test_a_maintenance_is_heard_to_its_end(tmp_path):
    """That a replay is twice the same is shown in ``tests/commands/test_replay.py``."""
    assert replay(VISIT, tmp_path) == (0, "")
    record = json.loads((tmp_path / "out" / "record.json").read_text())
    assert record["outcome"] == "maintained"
    facts = [(kind, json.loads(body)) for _, _, kind, body in journal_of(tmp_path)]
    filters = [
        body["judgement"]["outcome"]
        for kind, body in facts
        if kind == "check-judged" and body["check"] == "filter-look"
    ]
    assert filters == ["blocked", "open"]
    kept = [body["plate"] for kind, body in facts if kind == "plate-kept"][-1]
    assert (kept["pipe_m"], kept["lift_m"]) == (6.0, 2.0)
