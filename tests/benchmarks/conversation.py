"""Start to first spoken word, memory, and the time from the last word to the reply, against the recognizer alone.

``python -m tests.benchmarks.conversation [VISIT]``. Prints figures and ratios and asserts nothing. The live part needs
what the tests with a sound card need (PulseAudio); without it, it is left out.
"""

from __future__ import annotations

import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterable
from datetime import datetime
from pathlib import Path

import soundfile

from assistant.hearing.ears.whisper import WhisperEar
from assistant.hearing.listening.default import default_ears
from assistant.hearing.sound.endpointing import Settings, endpoint
from assistant.hearing.sound.files import FileFrames
from assistant.language.grammar import compile_state, warm
from assistant.library.loader import load
from assistant.speaking.synthesis import synthesizer
from assistant.visit.journal import Journal
from assistant.visit.recording import RecordedVisit
from assistant.visit.recording import load as load_recording
from assistant.visit.session import Knowledgeable, RealClock, Session
from tests.soundcard import SoundCard

ROOT = Path(__file__).parents[2]
#: Answers given in the live part.
_LIVE = 6
#: The pause after which a reply is over.
_OVER_S = 2.0
_FIRST_WORD = """
import os, sys, time
start = time.perf_counter()
from assistant.speaking import file_voice
def first(self, text):
    said = say(self, text)
    print(time.perf_counter() - start, flush=True)
    os._exit(0)
say, file_voice.FileVoice.say = file_voice.FileVoice.say, first
from assistant.commands.main import main
main(["replay", sys.argv[1], "--json", "--to", sys.argv[2]])
"""


def main() -> None:
    """Measure and print."""
    visit = Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT / "recordings_synthetic" / "crossed-terminals"
    recorded = load_recording(visit)
    load_average = ", ".join(f"{each:.1f}" for each in os.getloadavg())
    print(f"{os.cpu_count()} cores, load average {load_average}")
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        starts = [_first_word_s(visit, home) for _ in range(4)][1:]
        print(f"replay, start to first spoken word: {_spread(starts)} (bar 2 s)")
        print(f"replay of one answer, memory at most: {_replay_memory_mb(recorded, home):.0f} MB (bar 400 MB)")
        if shutil.which("pulseaudio"):
            _live(recorded, home)
        _ears(recorded, home)


def _environment(home: Path, **more: str) -> dict[str, str]:
    return {**os.environ, "LADDERSIDE_HOME": str(home), "PYTHONPATH": str(ROOT), **more}


def _first_word_s(visit: Path, home: Path) -> float:
    """Seconds from the start of the program to the first reply being sound (the interpreter's start not counted)."""
    words = [sys.executable, "-c", _FIRST_WORD, str(visit), str(home / "out")]
    done = subprocess.run(words, capture_output=True, text=True, env=_environment(home), cwd=ROOT)
    return float(done.stdout.split()[-1])


def _replay_memory_mb(recorded: RecordedVisit, home: Path) -> float:
    """The greatest memory of a program that hears with all ears and speaks."""
    clip = next(recorded.clip(name) for name in recorded.words if name.endswith("-1.flac"))
    words = [sys.executable, "-m", "assistant", "replay", str(clip), "--json"]
    program = subprocess.Popen(words, stdout=subprocess.DEVNULL, env=_environment(home), cwd=ROOT)
    return _memory_mb(program)


def _memory_mb(program: subprocess.Popen[str] | subprocess.Popen[bytes]) -> float:
    """Waits for the program's end; MB at most."""
    _, status, used = os.wait4(program.pid, 0)
    program.returncode = os.waitstatus_to_exitcode(status)
    return used.ru_maxrss / 1024


def _live(recorded: RecordedVisit, home: Path) -> None:
    """``ladderside visit`` on a sound card whose loudspeaker is its microphone: what a person in the room hears."""
    clips = [recorded.clip(name) for name in recorded.words if name.endswith("-1.flac")][:_LIVE]
    with tempfile.TemporaryDirectory() as folder:
        card = SoundCard(Path(folder))
        try:
            card.wait_until_ready()
            starts = [_visit(card, home, ())[0] for _ in range(3)]
            print(f"visit, start to first spoken word: {_spread(starts)} (bar 2 s), the interpreter's start counted")
            _, waits, memory_mb = _visit(card, home, clips)
        finally:
            card.stop()
    print(f"visit, last word to first sound of the reply, in the air: {_spread(waits)} of {len(waits)} (bar 0.7 s)")
    print(f"visit, memory at most: {memory_mb:.0f} MB (bar 400 MB)")


def _visit(card: SoundCard, home: Path, clips: Iterable[Path]) -> tuple[float, list[float], float]:
    """Leads a visit with ``clips``: seconds to the first word, from each clip's last word to the reply, and MB."""
    with card.air(block_s=0.01) as air:
        air.wait_for(0.5)
        began = time.perf_counter()
        visit = subprocess.Popen(
            [sys.executable, "-m", "assistant", "visit", "--json"],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            env=_environment(home, PULSE_SERVER=card.server),
            cwd=ROOT,
        )
        air.wait_for_sound(0.0, 60)
        first_s, waits = time.perf_counter() - began, []
        for clip in clips:
            air.wait_for_quiet(_OVER_S)
            before = len(air.pauses_s)
            card.play(clip).wait()
            air.wait_for_quiet(_OVER_S)
            waits += [pause_s + _after_last_word_s(clip) for pause_s in air.pauses_s[before + 1 : before + 2]]
        visit.terminate()
        return first_s, waits, _memory_mb(visit)


def _after_last_word_s(clip: Path) -> float:
    """How long the room's noise goes on in a clip after its last word."""
    *_, last = endpoint(FileFrames(clip))
    return soundfile.info(clip).duration - (last.end_s - Settings().after_s)


def _ears(recorded: RecordedVisit, home: Path) -> None:
    """Both ears against Whisper alone on the same utterances, and what the rest of a turn takes."""
    session = Session.begin(Knowledgeable(load()), Journal(home / "b.sqlite"), RealClock(), "typed", datetime.now())
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
    print(f"all ears to meaning: median {middle(both):.3f} s, {middle(both) / middle(single):.2f} times Whisper alone")
    print(f"dialogue and journal: median {1000 * middle(turns):.1f} ms a turn (bar 20 ms)")
    ratio = middle(replies) / middle(single)
    print(f"to the first sound of the reply: median {middle(replies):.3f} s, {ratio:.2f} times Whisper alone")


def _spread(seconds: list[float]) -> str:
    return f"median {statistics.median(seconds):.2f} s, {min(seconds):.2f} to {max(seconds):.2f}"


if __name__ == "__main__":
    main()
