"""What was mended at this unit before: its roots and neighbors start heavier, and answers still decide."""

from __future__ import annotations

import pytest

from assistant.library.loader import load
from assistant.reasoning.reasoner import Reasoner
from assistant.reasoning.recurrence import NEIGHBOR, ROOT


@pytest.fixture(scope="module")
def reasoner() -> Reasoner:
    library = load()
    return Reasoner(library, library.profiles["lantern-hill-trio"])


def chances(reasoner: Reasoner, mended: tuple[str, ...]) -> dict[str, float]:
    return dict(reasoner.ranked(reasoner.recurring(reasoner.start(["water-down-wall"]), mended)))


def test_what_made_a_hose_block_gains_on_everything_else(reasoner):
    before, after = chances(reasoner, ()), chances(reasoner, ("drain-hose-blocked",))
    others = ("drain-trap-faulty", "line-insulation-missing")
    for other in others:
        gained = (after["drain-slope-wrong"] / after[other]) / (before["drain-slope-wrong"] / before[other])
        assert gained == pytest.approx(ROOT)
    assert sum(after.values()) == pytest.approx(1.0)


def test_another_fault_of_the_same_part_gains(reasoner):
    before, after = chances(reasoner, ()), chances(reasoner, ("drain-float-stuck",))
    ratio = after["drain-float-open"] / after["drain-trap-faulty"]
    assert ratio / (before["drain-float-open"] / before["drain-trap-faulty"]) == pytest.approx(NEIGHBOR)


def test_a_look_outweighs_it(reasoner):
    belief = reasoner.recurring(reasoner.start(["water-down-wall"]), ("drain-hose-blocked",))
    check = reasoner.library.checks["drain-hose-run"]
    seen = reasoner.update(belief, check.id, {"falls": 1.0})
    assert dict(reasoner.ranked(seen))["drain-slope-wrong"] < dict(reasoner.ranked(belief))["drain-slope-wrong"] / ROOT


def test_a_part_that_this_unit_has_not_changes_nothing(reasoner):
    assert chances(reasoner, ("no-such-part",)) == chances(reasoner, ())
