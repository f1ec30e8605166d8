"""The recorded visits under the eyes of the watcher, at times in which the work can be done."""

import re
from pathlib import Path

import pytest

from assistant.dialogue import facts as f
from assistant.library.loader import load
from assistant.visit.session import Knowledgeable
from tests.commands.scripted import lead
from tests.safety.watcher import Watcher

LIBRARY = load()
RECORDED = sorted(path.parent for path in (Path(__file__).parents[2] / "recordings_synthetic").glob("*/script.yaml"))
#: A quick hand needs a quarter of what is reckoned with for a step, and a script's longest pause is half an hour.
QUICKEST, LONGEST_PAUSE_S = 0.25, 1800.0
_NUMBERS = {"one": 1, "two": 2, "three": 3, "five": 5, "ten": 10, "fifteen": 15, "thirty": 30}


def named_s(words):
    """The longest time that a step's own words name, in s."""
    spans = re.findall(rf"\b({'|'.join(_NUMBERS)}) minutes?\b", words.lower())
    return max((60.0 * _NUMBERS[each] for each in spans), default=0.0)


def least_s(check):
    """A check cannot be over sooner: as long as its words say, and as hands need that have something to do."""
    words = " ".join([check.probes, *(question.say for question in check.ask)])
    touches = any(touch.what != "nothing" for touch in check.touches)
    return max(named_s(words), 60 * QUICKEST * check.minutes if touches else 0.0)


class Onlooker:
    """Watches, and takes the time of every step and wait."""

    def __init__(self):
        self.watcher = Watcher(LIBRARY)
        self.begun = {}
        self.hurried = []
        self.waits = []
        self.proved = set()
        self.checks = 0

    def see(self, event, turn):
        self.watcher.see(event, turn)
        for fact in turn.facts:
            match fact:
                case f.CheckStarted(check=name) | f.RepairDescribed(suspect=name):
                    self.begun[name] = event.now_s
                case f.CheckJudged(check=name):
                    self.checks += 1
                    self._took(name, event.now_s, least_s(LIBRARY.checks[name]))
                case f.RepairDone(suspect=name, done=True):
                    wanted = 60 * QUICKEST * LIBRARY.suspects[name].repair.minutes
                    self._took(name, event.now_s, min(wanted, LONGEST_PAUSE_S))
                case f.WaitStarted(until_s=until_s):
                    self.waits.append(until_s)
                case f.WaitEnded() | f.TimeReached() if self.waits and event.now_s < self.waits[-1]:
                    self.hurried.append(f"a wait ended {self.waits[-1] - event.now_s:.0f} s too soon")
                case f.EnergyChanged(to="proved-dead", place=place):
                    self.proved.add(place)

    def _took(self, name, now_s, least):
        took = now_s - self.begun.get(name, now_s)
        if name in self.begun and took < least:
            self.hurried.append(f"{name} took {took:.0f} s, no hand does it in less than {least:.0f}")


@pytest.mark.parametrize("folder", RECORDED, ids=[folder.name for folder in RECORDED])
def test_a_recorded_visit_breaks_no_rule_and_hurries_nothing(folder):
    onlooker = Onlooker()
    state, complaint = lead(folder, Knowledgeable(LIBRARY), onlooker.see)
    assert not complaint
    assert state.closing in ("mended", "maintained", "commissioned")
    assert not onlooker.watcher.breaks
    assert not onlooker.hurried
    assert onlooker.checks > 8
    assert onlooker.proved, "hands went in, so some place was proved dead"


def test_there_are_recorded_visits():
    assert len(RECORDED) >= 3
