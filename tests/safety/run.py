"""``python -m tests.safety.run --visits N --seed S``: lead N random visits and name every rule that one breaks."""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter

from assistant.library.loader import load
from assistant.visit.session import Knowledgeable
from tests.safety.visits import watch


def main() -> None:
    """Print each break with its seed, then what the visits came to; exit 1 when a rule was broken."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--visits", type=int, default=100)
    parser.add_argument("--seed", type=int, default=0, help="the first seed; the others follow it")
    parser.add_argument("--turns", type=int, default=110)
    asked = parser.parse_args()
    context = Knowledgeable(load())
    ends: Counter[str] = Counter()
    rules: Counter[str] = Counter()
    turns = broken = 0
    start = time.perf_counter()
    for seed in range(asked.seed, asked.seed + asked.visits):
        watched = watch(context, seed, asked.turns)
        turns += watched.turns
        ends[watched.closing] += 1
        broken += bool(watched.breaks)
        for turn, each in watched.breaks:
            rules[each.rule] += 1
            print(f"seed {seed}, utterance {turn}: {each.rule}: {each.how}", flush=True)
        if (seed + 1 - asked.seed) % 1000 == 0:
            print(f"{seed + 1 - asked.seed} visits, {broken} with a break", flush=True)
    seconds = time.perf_counter() - start
    print(f"{asked.visits} visits, {turns} utterances, {seconds / asked.visits:.2f} s a visit; ended {dict(ends)}")
    print(f"{broken} visits broke a rule: {dict(rules.most_common())}")
    sys.exit(1 if broken else 0)


if __name__ == "__main__":
    main()
