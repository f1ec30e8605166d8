"""``ladderside visit``: the live path on a real sound device, and the clear words when there is none."""

import json
import os
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path
from queue import Empty, Queue

import numpy as np
import pytest
import soundfile as sf

from assistant.dialogue.commands import HOLDS
from assistant.hearing.sound.audio import SAMPLE_RATE
from assistant.speaking.text import seconds
from recordings_synthetic.voices import say
from tests.soundcard import no_sound_card, sound_card

__all__ = ["no_sound_card", "sound_card"]
pytestmark = pytest.mark.slow

ROOT = Path(__file__).parents[2]
CLIPS = ROOT / "recordings_synthetic" / "crossed-terminals" / "clips"
#: The pause after which a person takes a reply to be over, or that none comes: longer than between two sentences.
OVER_S = 2.5
#: Patience for one turn; a machine under full load is slow.
PATIENCE_S = 180
#: What a turn says it asks while the visit is held.
HELD = "held"


def in_the_air(folder, words):
    """A sound file that says ``words``, loud enough to be heard over a reply."""
    path = folder / f"{words}.wav"
    sf.write(path, np.pad(np.clip(say(words, "festival-kal") * 4, -1, 1), (0, SAMPLE_RATE // 2)), SAMPLE_RATE)
    return path


class LiveVisit:
    """The program with a person beside it: waits until it has said its reply, then answers; says it again if asked."""

    def __init__(self, card, home, *options):
        self._card = card
        self._clips = home.parent
        self._errors = (home.parent / "stderr.txt").open("w+")
        self.air = card.air()
        self.process = subprocess.Popen(
            [sys.executable, "-m", "assistant", "visit", "--json", *options],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=self._errors,
            text=True,
            cwd=ROOT,
            env={**os.environ, "LADDERSIDE_HOME": str(home), "PULSE_SERVER": card.server},
            # Whoever started these tests in the background of a shell made them deaf to Ctrl-C.
            preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
        )
        self._lines = Queue()
        #: Every turn that was looked at, for the one who has to find out why a test failed.
        self._seen = []
        self._reading = threading.Thread(target=self._read)
        self._reading.start()

    def _read(self):
        for line in self.process.stdout:
            self._lines.put(line)
        self._lines.put("null")

    def turn(self):
        """The next turn that the program reports."""
        try:
            turn = json.loads(self._lines.get(timeout=PATIENCE_S))
        except Empty:
            turn = None
        assert turn is not None, f"the visit said nothing more (exit {self.process.poll()}): {self.account()}"
        self._seen.append(turn)
        return turn

    @property
    def has_turned(self):
        """Whether the program has reported a turn that nobody has looked at."""
        return not self._lines.empty()

    def hear_out(self):
        """Listen until the reply has been said; the turns that came meanwhile."""
        turns = []
        self.air.wait_for_quiet(OVER_S)
        while self.has_turned:
            turns.append(self.turn())
            self.air.wait_for_quiet(OVER_S)
        return turns

    def say(self, clip):
        """Say a clip of the recorded visit, or another sound file, into the air."""
        assert self._card.play(CLIPS / clip).wait() == 0

    def answer(self, clip, leads_to):
        """Answer when the reply has been said, and again until the question ``leads_to`` is asked, as a person would.

        Where the machine is so busy that sound is lost, it asks to say it again, or hears something else: a piece of
        an answer may be "wait", and who is told that the visit waits says "carry on".
        """
        self.hear_out()
        for _ in range(8):
            held = self._seen[-1]["question"] == HELD
            self.say(in_the_air(self._clips, "carry on") if held else clip)
            turns = [self.turn()] if self.has_reacted() else []
            while True:
                led = [turn for turn in turns if turn["question"] == leads_to]
                if led:
                    return led[0]
                turns = self.hear_out()
                if not turns:
                    break
        raise AssertionError(f"nothing that was said led to {leads_to}: {self.account()}")

    def has_reacted(self, patience_s=40):
        """Waits for a turn as long as a patient person would: a word of which nothing was heard brings none."""
        for _ in range(patience_s):
            if self.has_turned:
                return True
            self.air.wait_for(1.0)
        return False

    def cry(self, clip):
        """Cry into the reply, a second after its beginning and every two seconds, as whoever is not heard does."""
        self.air.wait_for_sound(1.0, patience_s=5.0)
        for _ in range(10):
            self.say(clip)
            if self.has_reacted(patience_s=2):
                break
        return self.turn()

    def account(self):
        """What was heard and asked, turn by turn, and what the program complained of."""
        turns = [f"heard {turn.get('heard')}, then asked {turn['question']}" for turn in self._seen]
        return "\n".join([*turns, self.errors()])

    def errors(self):
        self._errors.seek(0)
        return self._errors.read()

    def close(self):
        """Ctrl-C, then all that it still says. May be called twice."""
        if self._errors.closed:
            return
        self.process.send_signal(signal.SIGINT)
        self.process.wait(timeout=60)
        self._reading.join()
        self.process.stdout.close()
        self.air.close()
        errors = self.errors()
        self._errors.close()
        assert "Traceback" not in errors


@pytest.fixture
def live(sound_card, home):
    """``live(*options)`` begins a visit."""
    begun = []

    def begin(*options):
        begun.append(LiveVisit(sound_card, home, *options))
        return begun[-1]

    yield begin
    for visit in begun:
        visit.close()


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


@pytest.fixture
def words_in_the_air(tmp_path):
    """``words_in_the_air("stop")``: a sound file that says it."""
    return lambda words: in_the_air(tmp_path, words)


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
