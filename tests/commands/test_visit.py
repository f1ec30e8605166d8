"""``ladderside visit``: the live path on a real sound device, and the clear words when there is none."""

import json

import pytest

from assistant.dialogue.commands import HOLDS
from assistant.speaking.text import seconds
from tests.commands.live import HELD, PATIENCE_S, live, words_in_the_air
from tests.soundcard import no_sound_card, sound_card

__all__ = ["live", "no_sound_card", "sound_card", "words_in_the_air"]
pytestmark = pytest.mark.slow


def test_spoken_answers_in_the_air_lead_the_visit(live, home):
    visit = live()
    assert visit.turn()["question"] == "visit.site"
    assert visit.air.wait_for_sound(0.0, PATIENCE_S)
    # Nobody has said a word yet.
    assert [turn for turn in visit.hear_out() if turn["heard"]["trust"] != "again"] == [], "it has heard itself"
    site = visit.answer("01-visit-site-1.flac", leads_to="visit.profile")
    assert [name for name, _ in site["heard"]["ears"]] == ["phoneme", "whisper", "moonshine"]
    chosen = visit.answer("02-visit-profile-1.flac", leads_to="visit.indication")
    # Said once, or once more where a name of another unit was as near.
    assert chosen["heard"]["meaning"]["choice"] in ("copper-wren-solo", "said-again"), chosen
    assert chosen["says"][0] == "Copper Wren Solo."
    visit.close()
    record = json.loads(next((home / "records").glob("*/record.json")).read_text())
    assert record["unit"]["name"] == "Copper Wren Solo"
    assert record["origin"] == "microphone"


@pytest.mark.usefixtures("no_sound_card")
def test_without_a_sound_device_one_sentence_names_the_two_other_ways(in_its_own_process):
    done = in_its_own_process("visit")
    assert done.returncode == 2
    assert "ladderside replay" in done.stderr
    assert "ladderside type" in done.stderr
    assert "Traceback" not in done.stderr
    assert len(done.stderr.strip().splitlines()) == 1


def test_stop_over_a_reply_silences_it_and_holds_until_carry_on(live, words_in_the_air, home):
    visit = live()
    assert visit.turn()["question"] == "visit.site"
    assert visit.air.wait_for_sound(0.0, PATIENCE_S)
    # By the end of the first reply its own voice is known, and a cry can be told from it.
    asked = visit.answer("01-visit-site-1.flac", leads_to="visit.profile")
    for _ in range(8):
        held = visit.cry(words_in_the_air("stop"))
        if _is_held(held) and held["heard"]["start_s"] - asked["at_s"] < sum(map(seconds, asked["says"])):
            break
        # The reply was over by then, or something else was heard: the next one is cried into.
        asked = visit.answer(words_in_the_air("carry on"), leads_to="visit.profile") if _is_held(held) else held
    else:
        raise AssertionError("no cry broke in on a reply")
    # Which of the two it was matters to nobody, and the reply's own voice is in the sound: both hold the visit.
    assert held["heard"]["meaning"]["name"] in HOLDS
    visit.hear_out()
    visit.say("02-visit-profile-1.flac")
    assert not visit.has_reacted(patience_s=5), "talk with the customer is no answer"
    for _ in range(3):
        visit.say(words_in_the_air("carry on"))
        if visit.has_reacted():
            break
    released = visit.turn()
    assert released["heard"]["meaning"]["name"] == "resume"
    assert released["question"] == "visit.profile"


def test_with_a_phrase_nothing_is_taken_before_the_call(live, words_in_the_air):
    visit = live("--listen", "phrase")
    assert visit.turn()["question"] == "visit.site"
    assert visit.air.wait_for_sound(0.0, PATIENCE_S)
    visit.hear_out()
    visit.say("01-visit-site-1.flac")
    assert not visit.has_reacted(patience_s=8), "talk with the customer is no answer"
    for _ in range(8):
        visit.say(words_in_the_air("listen ladder"))
        visit.hear_out()
        visit.say("01-visit-site-1.flac")
        if visit.has_reacted(patience_s=15):
            break
    assert visit.turn()["question"] == "visit.profile"


def _is_held(turn):
    return turn["question"] == HELD
