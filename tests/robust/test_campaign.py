"""The fault campaign at its smallest; ``python -m tests.campaign`` is the same at full size."""

from pathlib import Path

import pytest

from tests.campaign import parts
from tests.robust.campaign import kills, power


@pytest.mark.parametrize("name", ["kills", "power", "disks", "clocks", "writers", "devices", "spoilt"])
def test_nothing_is_lost_doubled_or_asked_otherwise(tmp_path: Path, name: str):
    for report in parts(1, 7, tmp_path)[name]():
        assert report.failures == [], report.name
        assert report.tried or report.note.startswith("not tried")


def test_a_disk_that_lies_is_found_out(tmp_path: Path):
    """The campaign itself: where nothing is forced to the disk, power cuts do lose turns."""
    report = power.cuts(40, 7, tmp_path, turns=8, lying=True)
    assert report.failures or report.note.startswith("not tried")


def test_a_journal_that_forgets_is_found_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """The campaign itself: where a turn is answered before it is on the disk, kills do lose turns."""
    from assistant.visit.journal import Journal

    def forgets(self, visit, at, at_s, facts, after=None, standing=None):
        return (after or 0) + len(tuple(facts))

    monkeypatch.setattr(Journal, "append", forgets)
    assert kills.of_sessions(3, 7, tmp_path).failures
