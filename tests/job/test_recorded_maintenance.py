"""A maintenance as it is heard: how the recorded visit begins. All of it in words: ``tests/commands/test_replay.py``.

``ladderside replay recordings_synthetic/yearly-maintenance`` plays it to its end and compares what was recorded.
"""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
import yaml

from tests.commands.test_replay import journal_of, replay

VISIT = Path(__file__).parents[2] / "recordings_synthetic" / "yearly-maintenance"
#: So many turns of the script are heard: the unit, its plate, the first checks.
HEARD = 12
pytestmark = pytest.mark.slow


def test_a_maintenance_is_heard(tmp_path):
    visit = tmp_path / VISIT.name
    shutil.copytree(VISIT, visit)
    script = yaml.safe_load((visit / "script.yaml").read_text())
    script["turns"] = script["turns"][:HEARD]
    (visit / "script.yaml").write_text(yaml.safe_dump(script))
    status, complaint = replay(visit, tmp_path)
    assert status == 2
    assert "has no answer" in complaint
    facts = [(kind, json.loads(body)) for _, _, kind, body in journal_of(tmp_path)]
    assert [body["course"] for kind, body in facts if kind == "course-begun"] == ["maintenance"]
    kept = [body["plate"] for kind, body in facts if kind == "plate-kept"][-1]
    assert (kept["pipe_m"], kept["lift_m"]) == (6.0, 2.0)
    assert [body for kind, body in facts if kind == "check-judged"]
