"""``ladderside visit`` when a device or the program itself breaks in the middle."""

import os
import signal
import time
from pathlib import Path

import pytest

from tests.commands.live import CLIPS, PATIENCE_S, live
from tests.soundcard import sound_card

__all__ = ["live", "sound_card"]
pytestmark = pytest.mark.slow


def test_a_device_that_goes_in_the_middle_of_a_word_and_comes_back(sound_card, live):
    visit = live()
    assert visit.turn()["question"] == "visit.site"
    assert visit.air.wait_for_sound(0.0, PATIENCE_S)
    visit.hear_out()
    speaking = sound_card.play(CLIPS / "01-visit-site-1.flac")
    visit.air.wait_for_sound(0.2, 20)
    sound_card.unplug()
    speaking.wait()
    until = time.monotonic() + 60
    while "WaitForFrames" not in visit.errors() and time.monotonic() < until:  # PortAudio's own word for it
        time.sleep(0.2)
    time.sleep(3)
    sound_card.plug_in()
    again = visit.turn()
    assert again["says"][0] == "The visit goes on where it stopped."
    assert again["question"] == "visit.site", "nothing of the word was taken for an answer"
    visit.air.close()
    visit.air = sound_card.air()
    assert visit.answer("01-visit-site-1.flac", leads_to="visit.profile")["heard"]


def test_a_program_that_crashes_goes_on_by_itself_at_the_same_question(live):
    visit = live()
    assert visit.turn()["question"] == "visit.site"
    assert visit.air.wait_for_sound(0.0, PATIENCE_S)
    visit.answer("01-visit-site-1.flac", leads_to="visit.profile")
    [child] = Path(f"/proc/{visit.process.pid}/task/{visit.process.pid}/children").read_text().split()
    os.kill(int(child), signal.SIGSEGV)
    again = visit.turn()
    assert again["says"][0] == "The visit goes on where it stopped."
    assert again["question"] == "visit.profile"
    assert visit.answer("02-visit-profile-1.flac", leads_to="visit.indication")["heard"]
