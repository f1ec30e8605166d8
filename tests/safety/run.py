"""``python -m tests.safety.run --visits N --seed S``: lead N random visits and name every rule that one breaks.

Many of them are led a piece at a time: with ``--kept FILE`` what was led is kept there, a line a piece, and the next
call goes on after its last seed until ``--visits`` are done:

    python -m tests.safety.run --visits 20000 --processes 2 --seconds 200 --kept visits.jsonl
"""

from __future__ import annotations

import argparse
import gc
import json
import math
import sys
import time
import traceback
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import partial
from multiprocessing import get_context
from pathlib import Path
from typing import Any

from assistant.library.loader import load
from assistant.visit.session import Knowledgeable
from tests.safety.rules import Break
from tests.safety.visits import WANTED, Watched, watch

_REPORT_EVERY = 100


@dataclass
class Led:
    """What a piece of the visits came to: seeds ``first`` to ``first + visits - 1``."""

    first: int
    visits: int = 0
    turns: int = 0
    broken: list[int] = field(default_factory=list)
    ends: Counter[str] = field(default_factory=Counter)
    rules: Counter[str] = field(default_factory=Counter)
    met: Counter[str] = field(default_factory=Counter)

    def add(self, watched: Watched) -> None:
        """One more visit; each of its breaks is printed with its seed."""
        self.visits += 1
        self.turns += watched.turns
        self.ends[watched.closing] += 1
        self.met += watched.met
        if watched.breaks:
            self.broken.append(watched.seed)
        for turn, each in watched.breaks:
            self.rules[each.rule] += 1
            print(f"seed {watched.seed}, utterance {turn}: {each.rule}: {each.how}", flush=True)


def main() -> None:
    """Print each break with its seed, then what the visits came to; exit 1 when a rule was broken."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--visits", type=int, default=100, help="so many; with --kept, so many in all")
    parser.add_argument("--seed", type=int, default=0, help="the first seed; the others follow it")
    parser.add_argument("--turns", type=int, default=110)
    parser.add_argument("--processes", type=int, default=1)
    parser.add_argument("--seconds", type=float, default=math.inf, help="begin no further visit after so long")
    parser.add_argument("--kept", type=Path, help="the file in which what was led is kept, to go on from")
    asked = parser.parse_args()
    before = _kept(asked.kept)
    first = max((each["first"] + each["visits"] for each in before), default=asked.seed)
    left = asked.visits - sum(each["visits"] for each in before)
    led, start = Led(first), time.perf_counter()
    for watched in _visits(asked, range(first, first + max(left, 0))):
        led.add(watched)
        if led.visits % _REPORT_EVERY == 0:
            print(f"{led.visits} visits, {len(led.broken)} with a break", flush=True)
        if time.perf_counter() - start > asked.seconds:
            break
    _tell(led, time.perf_counter() - start)
    if asked.kept is not None:
        piece = {"first": led.first, "visits": led.visits, "turns": led.turns, "broken": led.broken}
        with asked.kept.open("a", encoding="utf-8") as file:
            file.write(json.dumps(piece) + "\n")
        _tell_all([*before, piece], asked.visits)
    sys.exit(1 if led.broken else 0)


def _tell(led: Led, seconds: float) -> None:
    print(
        f"{led.visits} visits from seed {led.first}, {led.turns} utterances, {seconds / max(led.visits, 1):.2f} s each"
    )
    print("ended", dict(led.ends.most_common()))
    print("met", {name: led.met[name] for name in WANTED})
    print(f"{len(led.broken)} visits broke a rule: {dict(led.rules.most_common())}; seeds {led.broken}")


def _kept(path: Path | None) -> list[dict[str, Any]]:
    """The pieces that were led before."""
    if path is None or not path.exists():
        return []
    return [json.loads(line) for line in path.read_text("utf-8").splitlines() if line.strip()]


def _tell_all(pieces: list[dict[str, Any]], wanted: int) -> None:
    broken = [seed for piece in pieces for seed in piece["broken"]]
    done = sum(piece["visits"] for piece in pieces)
    print(f"in all {done} of {wanted} visits, {len(broken)} with a break: seeds {broken}")


def _visits(asked: argparse.Namespace, seeds: range) -> Iterator[Watched]:
    one = partial(lead, turns=asked.turns)
    if asked.processes == 1:
        yield from map(one, seeds)
        return
    with get_context("spawn").Pool(asked.processes) as pool:
        yield from pool.imap(one, seeds, chunksize=10)


_CONTEXT: list[Knowledgeable] = []


def lead(seed: int, turns: int) -> Watched:
    """One visit. A program that ends in the middle of one is the worst of breaks."""
    if not _CONTEXT:
        _CONTEXT.append(Knowledgeable(load()))
        gc.freeze()  # the knowledge stays: looking through it for garbage takes a tenth of the time
        gc.set_threshold(50_000, 20, 50)
    try:
        return watch(_CONTEXT[0], seed, turns)
    except Exception as error:
        where = traceback.extract_tb(error.__traceback__)[-1]
        how = f"{type(error).__name__}: {error} ({where.filename}, line {where.lineno})"
        return Watched(seed, closing="ended in an error", breaks=[(0, Break("no-error", how))])


if __name__ == "__main__":
    main()
