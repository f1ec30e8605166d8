"""A maintenance as it is heard: the recorded visit, with the minutes that such work takes, twice the same."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.commands.test_replay import journal_of, replay

VISIT = Path(__file__).parents[2] / "recordings_synthetic" / "yearly-maintenance"
pytestmark = pytest.mark.slow


def test_a_maintenance_is_heard_to_its_end_and_twice_the_same(tmp_path):
    homes = tmp_path / "one", tmp_path / "two"
    for home in homes:
        assert replay(VISIT, home) == (0, "")
    record = json.loads((homes[0] / "out" / "record.json").read_text())
    assert record["outcome"] == "maintained"
    facts = [(kind, json.loads(body)) for _, _, kind, body in journal_of(homes[0])]
    filters = [
        body["judgement"]["outcome"]
        for kind, body in facts
        if kind == "check-judged" and body["check"] == "filter-look"
    ]
    assert filters == ["blocked", "open"]
    kept = [body["plate"] for kind, body in facts if kind == "plate-kept"][-1]
    assert (kept["pipe_m"], kept["lift_m"]) == (6.0, 2.0)
    assert journal_of(homes[0]) == journal_of(homes[1])
