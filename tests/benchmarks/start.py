"""Start to first word, time of a turn and memory of a typed visit, against their bars.

``python -m tests.benchmarks.start [--visits 3]``. The processor's time is what the program itself takes; on a machine
that does something else beside, the clock shows more. Prints figures and bars and asserts nothing. What a spoken visit
adds (models, sound) is in ``tests.benchmarks.conversation``.
"""

from __future__ import annotations

import argparse
import os
import random
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from assistant.dialogue.state import VisitState
from assistant.dialogue.step import Opened, Words, expected, step
from assistant.library.loader import load
from assistant.visit.session import Knowledgeable
from tests.dialogue.walker import random_heard

FIRST_WORD_S, TURN_MS, MEMORY_MB = 2.0, 5.0, 400.0
#: Turns of one visit, with a random technician who is led through checks.
_TURNS = 150


def first_word(folder: str) -> tuple[float, float, float]:
    """Seconds by the clock and of the processor from the command to the first thing said, and MB of memory then."""
    begun = time.perf_counter()
    command = [sys.executable, "-m", "assistant", "type", "--hurry"]
    with subprocess.Popen(
        command,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
        env=_as_installed(folder),
    ) as program:
        assert program.stdout is not None
        while " says " not in program.stdout.readline():
            pass
        took = time.perf_counter() - begun
        fields = Path(f"/proc/{program.pid}/stat").read_text().rpartition(")")[2].split()
        ticks = os.sysconf("SC_CLK_TCK")
        used = (int(fields[11]) + int(fields[12])) / ticks
        memory = int(fields[21]) * os.sysconf("SC_PAGE_SIZE") / 1e6
        program.kill()
    return took, used, memory


def _as_installed(folder: str) -> dict[str, str]:
    """The environment of a program whose modules are compiled, as pip leaves them, wherever this runs."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return {**kept, "LADDERSIDE_HOME": folder, "PYTHONPYCACHEPREFIX": str(Path(folder) / "compiled")}


def turns(context: Knowledgeable, seed: int) -> list[float]:
    """Milliseconds of processor of each turn of a random visit."""
    rng = random.Random(seed)
    state = step(context, VisitState(), Opened("benchmark")).state
    found = []
    for number in range(_TURNS):
        heard = random_heard(rng, expected(context, state))
        begun = time.process_time()
        state = step(context, state, Words(heard, 10.0 * number)).state
        found.append(1000 * (time.process_time() - begun))
    return found


def main() -> None:
    """Measure and print."""
    options = argparse.ArgumentParser(prog="python -m tests.benchmarks.start")
    options.add_argument("--visits", type=int, default=3)
    told = options.parse_args()
    load_average = ", ".join(f"{each:.1f}" for each in os.getloadavg())
    print(f"{os.cpu_count()} cores, load average {load_average}")
    with tempfile.TemporaryDirectory() as folder:
        first_word(folder)  # compiles
        starts = [first_word(folder) for _ in range(told.visits)]
    clock, used, memory = (statistics.median(column) for column in zip(*starts, strict=True))
    context = Knowledgeable(load())
    turns(context, 0)  # what is kept between visits is made once
    each = sorted(took for seed in range(told.visits) for took in turns(context, seed + 1))
    median, late = statistics.median(each), each[int(0.95 * len(each))]
    print(f"start to first word  {clock:6.2f} s, {used:.2f} s of processor   bar {FIRST_WORD_S:g} s")
    print(f"a turn               {median:6.2f} ms, 95 % under {late:.2f} ms   bar {TURN_MS:g} ms")
    print(f"memory               {memory:6.0f} MB at the first word       bar {MEMORY_MB:g} MB")
    fits = used <= FIRST_WORD_S and median <= TURN_MS and memory <= MEMORY_MB
    print(f"Bars: {'hold' if fits else 'do not hold'}")


if __name__ == "__main__":
    main()
