"""How many words are spoken from the lock-out to the first probe, at each place that can be proved dead.

python -m tests.benchmarks.words_to_first_probe [--profile copper-wren-solo] [--say]

Issue 17 asks for at most 90 the first time in a visit and 50 the second, after the power was on between. Nothing
dangerous may be left out for it: ``tests/dialogue/test_cautions.py`` holds what must be said.
"""

from __future__ import annotations

import argparse

from assistant.dialogue.step import expected
from assistant.library.loader import Library, load
from assistant.visit.session import Knowledgeable
from tests.safety.scripted import Led

FIRST_WORDS, AGAIN_WORDS = 90, 50


def places(library: Library) -> dict[str, str]:
    """The proof that is asked for at each place: the first of its procedures."""
    found: dict[str, str] = {}
    for check in library.checks.values():
        if check.proves is not None and "mains" in check.absent:
            found.setdefault(check.proves, check.id)
    return found


def to_first_probe(led: Led, check: str) -> list[str]:
    """What is said from the lock-out until the meter has something to read; without the check's name, read back."""
    led.ask("check", check)
    said = led.said[1:]
    for _ in range(20):
        now = expected(led.context, led.state)
        if now.reading is not None:
            return said
        ids = [choice.id for choice in now.choices]
        led.choose("understood" if "understood" in ids else "done")
        said += led.said
    raise SystemExit(f"No probe is reached at {check}; it was last asked {led.question}.")


def again(led: Led) -> None:
    """The proof is made, and the power comes on."""
    led.to("no such question", most=6)
    led.check("restore-power").to("no such question", most=6)


def words(texts: list[str]) -> int:
    return sum(len(text.split()) for text in texts)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--profile", default="copper-wren-solo")
    parser.add_argument("--say", action="store_true", help="print what is said as well")
    asked = parser.parse_args()
    context = Knowledgeable(load())
    print(f"| place | first, at most {FIRST_WORDS} | second, at most {AGAIN_WORDS} |\n| --- | --- | --- |")
    spoken: list[str] = []
    for place, check in places(context.library).items():
        led = Led(context).begin(unit=asked.profile)
        counts = []
        for time in ("first", "second"):
            texts = to_first_probe(led, check)
            counts.append(words(texts))
            spoken += [f"\n{place}, {time}:", *texts]
            again(led)
        print(f"| {place} | {counts[0]} | {counts[1]} |")
    if asked.say:
        print("\n".join(spoken))


if __name__ == "__main__":
    main()
