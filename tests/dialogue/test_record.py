"""The record tells the course of the visit as it stands: what "go back" has undone is not told as if it were so."""

from datetime import datetime, timedelta

import pytest

from assistant.dialogue.state import Stage
from assistant.language.meaning import Indication, Text
from assistant.record.build import build
from assistant.visit.journal import Stamped, VisitRow
from tests.dialogue.test_unsolved import unsolved

__all__ = ["unsolved"]

AT = datetime(2026, 3, 4, 9, 30)


def record(visit):
    """The record of all that was said."""
    stamped = [
        Stamped(seq=seq, at=AT + timedelta(seconds=seq), at_s=float(seq), fact=fact)
        for seq, fact in enumerate(visit.facts, start=1)
    ]
    row = VisitRow("2026-03-04-1", AT, "typed", facts=len(stamped), closed=False)
    return build(row, stamped, visit.context.library)


@pytest.fixture
def mending(unsolved):
    """The likeliest suspect is to be repaired, on the technician's judgement."""
    unsolved.say(Indication(choice="mend-likeliest"))
    assert unsolved.state.stage is Stage.REPAIR
    return unsolved


def test_an_indication_said_again_after_going_back_is_told_once(diagnosing):
    diagnosing.command("go-back")
    diagnosing.say(Indication(choice="no-communication"))
    library = diagnosing.context.library
    assert record(diagnosing).indications == (library.symptoms["no-communication"].name,)


def test_an_indication_taken_back_is_not_told(diagnosing):
    diagnosing.command("go-back")
    diagnosing.say(Indication(choice="draught-at-wall"))
    library = diagnosing.context.library
    assert record(diagnosing).indications == (library.symptoms["draught-at-wall"].name,)


def test_a_repair_taken_back_and_noted_again_is_one_repair_with_the_later_note(mending):
    mending.choose("done")
    mending.say(Text(words="sealed with foam"))
    mending.command("go-back")
    mending.command("go-back")
    mending.choose("done")
    mending.say(Text(words="sealed with mastic"))
    (repair,) = record(mending).repairs
    assert (repair.done, repair.words, repair.proof) == (True, "sealed with mastic", "not proved")


def test_a_fault_named_and_taken_back_is_not_the_fault(mending):
    assert record(mending).faults[-1].name == mending.context.library.suspects["wall-opening-unsealed"].name
    mending.command("go-back")
    assert mending.state.stage is Stage.UNSOLVED
    assert not record(mending).faults[-1].suspect


def test_how_the_unit_is_left_comes_before_the_outcome(diagnosing):
    diagnosing.command("check", "prove-dead")
    diagnosing.locked_out()
    left = record(diagnosing).left.sentences
    assert left[0].startswith("It is switched off and locked; nobody has measured that it is free of voltage.")
    assert left[1] == "Left off: the outdoor cover."
