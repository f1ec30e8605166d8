"""``python -m tests.safety.run --visits N --seed S``: lead N random visits and name every rule that one breaks."""

from __future__ import annotations

import argparse
import gc
import math
import sys
import time
import traceback
from collections import Counter
from collections.abc import Iterator
from functools import partial
from multiprocessing import get_context

from assistant.library.loader import load
from assistant.visit.session import Knowledgeable
from tests.safety.rules import Break
from tests.safety.visits import WANTED, Watched, watch

_REPORT_EVERY = 100


def main() -> None:
    """Print each break with its seed, then what the visits came to; exit 1 when a rule was broken."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--visits", type=int, default=100)
    parser.add_argument("--seed", type=int, default=0, help="the first seed; the others follow it")
    parser.add_argument("--turns", type=int, default=110)
    parser.add_argument("--processes", type=int, default=1)
    parser.add_argument("--seconds", type=float, default=math.inf, help="begin no further visit after so long")
    asked = parser.parse_args()
    ends: Counter[str] = Counter()
    rules: Counter[str] = Counter()
    met: Counter[str] = Counter()
    number = turns = broken = 0
    start = time.perf_counter()
    for number, watched in enumerate(_visits(asked), start=1):
        turns += watched.turns
        ends[watched.closing] += 1
        met += watched.met
        broken += bool(watched.breaks)
        for turn, each in watched.breaks:
            rules[each.rule] += 1
            print(f"seed {watched.seed}, utterance {turn}: {each.rule}: {each.how}", flush=True)
        if number % _REPORT_EVERY == 0:
            print(f"{number} visits, {broken} with a break", flush=True)
        if time.perf_counter() - start > asked.seconds:
            break
    seconds = time.perf_counter() - start
    print(f"{number} visits from seed {asked.seed}, {turns} utterances, {seconds / number:.2f} s a visit")
    print("ended", dict(ends.most_common()))
    print("met", {name: met[name] for name in WANTED})
    print(f"{broken} visits broke a rule: {dict(rules.most_common())}")
    sys.exit(1 if broken else 0)


def _visits(asked: argparse.Namespace) -> Iterator[Watched]:
    seeds = range(asked.seed, asked.seed + asked.visits)
    one = partial(_one, turns=asked.turns)
    if asked.processes == 1:
        yield from map(one, seeds)
        return
    with get_context("spawn").Pool(asked.processes) as pool:
        yield from pool.imap(one, seeds, chunksize=10)


_CONTEXT: list[Knowledgeable] = []


def _one(seed: int, turns: int) -> Watched:
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
