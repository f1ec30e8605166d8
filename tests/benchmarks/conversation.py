"""Start to first spoken word, memory, and the time from the last word to the reply, against the recognizer alone.

``python -m tests.benchmarks.conversation [VISIT]``. Prints figures and ratios and asserts nothing.
"""

from __future__ import annotations

import os
import resource
import statistics
import subprocess
import sys
import time
from pathlib import Path

from assistant.hearing.default import default_ears
from assistant.hearing.endpointing import endpoint
from assistant.hearing.files import FileFrames
from assistant.hearing.whisper import WhisperEar
from assistant.language.grammar import compile_state, warm
from assistant.library.loader import load
from assistant.speaking.synthesis import synthesizer
from assistant.visit.journal import Journal
from assistant.visit.recording import load as load_recording
from assistant.visit.session import Knowledgeable, Session, WallClock

ROOT = Path(__file__).parents[2]
_FIRST_WORD = """
import sys, time
start = time.perf_counter()
sys.argv = ["ladderside", "replay", sys.argv[1], "--json", "--to", sys.argv[2]]
from assistant.speaking import file_voice
say = file_voice.FileVoice.say
def first(self, text):
    said = say(self, text)
    print(time.perf_counter() - start, flush=True)
    import os; os._exit(0)
file_voice.FileVoice.say = first
from assistant.commands.main import main
main()
"""


def first_word_s(visit: Path, folder: Path) -> float:
    """Seconds from the start of the program to the first reply being sound (interpreter start not counted)."""
    environment = {**os.environ, "LADDERSIDE_HOME": str(folder), "PYTHONPATH": str(ROOT)}
    words = [sys.executable, "-c", _FIRST_WORD, str(visit), str(folder / "out")]
    out = subprocess.run(words, capture_output=True, text=True, env=environment, cwd=ROOT)
    return float(out.stdout.split()[-1])


def main() -> None:
    """Measure and print."""
    import tempfile

    visit = Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT / "recordings_synthetic" / "crossed-terminals"
    recorded = load_recording(visit)
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        starts = [first_word_s(visit, home) for _ in range(4)][1:]
        print(f"start to first spoken word: median {statistics.median(starts):.2f} s of 3 warm starts (bar 2 s)")
        from datetime import datetime

        session = Session.begin(Knowledgeable(load()), Journal(home / "b.sqlite"), WallClock(), "typed", datetime.now())
        session.open()
        ears, alone = default_ears(), WhisperEar()
        warm()
        clips = [recorded.clip(name) for name in recorded.words if name.endswith("-1.flac")]
        utterances = [u for clip in clips for u in endpoint(FileFrames(clip))]
        both, single, replies, turns = [], [], [], []
        for utterance in utterances:
            expectation = session.expectation
            ears.expect(expectation)
            alone.prepare(compile_state(expectation))
            began = time.perf_counter()
            alone.hear(utterance.audio)
            single.append(time.perf_counter() - began)
            began = time.perf_counter()
            heard = ears.judge(utterance)
            judged = time.perf_counter()
            turn = session.hear(heard)
            decided = time.perf_counter()
            if turn.replies:
                synthesizer().render(turn.replies[0].text)
            both.append(judged - began)
            turns.append(decided - judged)
            replies.append(time.perf_counter() - began)
    middle = statistics.median
    print(f"utterances: {len(utterances)}")
    print(f"Whisper alone, end of utterance to words: median {middle(single):.3f} s")
    print(f"both ears to meaning: median {middle(both):.3f} s, {middle(both) / middle(single):.2f} times Whisper alone")
    print(f"dialogue and journal: median {1000 * middle(turns):.1f} ms a turn (bar 20 ms)")
    print(
        f"to the first sound of the reply: median {middle(replies):.3f} s, {middle(replies) / middle(single):.2f} times"
    )
    print(f"memory: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB at most, two Whispers loaded")


if __name__ == "__main__":
    main()
