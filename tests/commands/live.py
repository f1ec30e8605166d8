"""A person beside the program: hears its replies on a real sound device and answers them with sound."""

import json
import os
import signal
import subprocess
import sys
import threading
from pathlib import Path
from queue import Empty, Queue

import numpy as np
import pytest
import soundfile as sf

from assistant.hearing.sound.audio import SAMPLE_RATE
from recordings_synthetic.voices import say

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


@pytest.fixture
def words_in_the_air(tmp_path):
    """``words_in_the_air("stop")``: a sound file that says it."""
    return lambda words: in_the_air(tmp_path, words)
