"""What language costs, and how near misses fare, on the shipped knowledge.

    python -m tests.benchmarks.language

Prints the time to compile a state for the ears (first time, and again with another question), the time to make sense
of an utterance, both as a share of the 20 ms that a turn may take, the size of the graphs, and for near misses the
share told as a doubt of the right and of a wrong meaning at several thresholds.
"""

from __future__ import annotations

import statistics
import time
from random import Random

from assistant.dialogue.asking import reading_expectation
from assistant.dialogue.nameable import components, indications
from assistant.language import closeness
from assistant.language.generate import sentences
from assistant.language.grammar import compile_state, warm
from assistant.language.interpret import interpret
from assistant.language.meaning import Expectation
from assistant.language.state import Phrase, check_phrases, closed_phrases
from assistant.library.loader import load

_TURN_MS = 20.0
FAR_TALK = (
    "i think the customer left",
    "hand me the meter please",
    "can you hold the ladder",
    "that was a long drive today",
    "where did you put the screwdriver",
    "it was installed last year",
    "i need to call the office",
    "could you move the truck",
    "the dog is barking outside",
    "turn the music down",
)


def states() -> list[Expectation]:
    """Every question of the shipped knowledge."""
    library = load()
    checks = components(library)
    asked = [
        Expectation(
            question=f"{check.id}.{question.key}",
            reading=reading_expectation(question.reading) if question.reading else None,
            choices=question.choices,
            text=question.text,
            checks=checks,
            topic=check.title,
        )
        for check in library.checks.values()
        for question in check.ask
    ]
    shown = indications(library, next(iter(library.profiles.values())))
    return [*asked, Expectation(question="shown", choices=shown, choice_kind="indication", checks=checks)]


def _ms(start: float) -> float:
    return (time.perf_counter() - start) * 1000


def _line(name: str, values: list[float]) -> str:
    values = sorted(values)
    middle, high = statistics.median(values), values[int(len(values) * 0.95)]
    return (
        f"{name:34} median {middle:6.1f} ms ({middle / _TURN_MS:4.0%} of a turn)"
        f"   95 % {high:6.1f} ms   most {values[-1]:6.1f} ms"
    )


def costs(asked: list[Expectation]) -> None:
    """Compiling and interpreting, state by state."""
    start = time.perf_counter()
    warm()
    print(f"{'once, at the start':34} {_ms(start):6.1f} ms")
    first, again, sizes = [], [], []
    for state in asked:
        start = time.perf_counter()
        graph = compile_state(state).graph
        first.append(_ms(start))
        sizes.append((len(graph.arcs), graph.states))
    for state in asked:
        renamed = state.model_copy(update={"question": f"again {state.question}"})
        start = time.perf_counter()
        compile_state(renamed)
        again.append(_ms(start))
    print(_line("compile, first time", first))
    print(_line("compile, its parts known", again))
    largest = max(sizes)
    print(f"{'graphs':34} median {statistics.median(a for a, _ in sizes):.0f} arcs, largest {largest[0]} arcs")
    taken: list[float] = []
    for state in asked[:: max(1, len(asked) // 40)]:
        for sentence in sentences(state, 12, seed=2):
            start = time.perf_counter()
            interpret(sentence.words, state)
            taken.append(_ms(start))
    print(_line("interpret", taken))


def _hurt(words: str, random: Random) -> str:
    """One word lost, added, bent or misspelt."""
    row = words.split()
    at = random.randrange(len(row))
    kind = random.choice(["lost", "added", "bent", "misspelt"])
    if kind == "lost" and len(row) > 2:
        del row[at]
    elif kind == "added":
        row.insert(at, random.choice(["the", "it", "is", "a", "there", "just"]))
    elif kind == "bent":
        row[at] = row[at][:-1] if row[at].endswith("s") else f"{row[at]}s"
    else:
        letter = random.randrange(len(row[at]))
        row[at] = row[at][:letter] + random.choice("aeioutrs") + row[at][letter + 1 :]
    return " ".join(row)


def near_misses(shown: Expectation) -> None:
    """The table behind the thresholds in assistant/language/closeness.py."""
    random = Random(3)
    phrases = closed_phrases(shown)
    known = {phrase.words for phrase in phrases}
    cases = [(phrase, _hurt(phrase.words, random)) for phrase in random.sample(phrases, 220) for _ in range(2)]
    cases = [(phrase, words) for phrase, words in cases if words and words not in known]
    print(f"\n{len(cases)} near misses, {len(FAR_TALK)} sentences of far talk; in force: ", end="")
    print(f"near {closeness.NEAR:g}, margin {closeness.MARGIN:g}")
    for near in (70.0, 74.0, 78.0, 82.0):
        for margin in (4.0, 8.0, 12.0):
            right, wrong, far = _counted(cases, shown, near, margin)
            share = right / len(cases)
            print(f"  near {near:g} margin {margin:2g}: right {share:6.1%}  wrong {wrong}  far talk taken {far}")


def _counted(cases: list[tuple[Phrase, str]], shown: Expectation, near: float, margin: float) -> tuple[int, int, int]:
    kept = closeness.NEAR, closeness.MARGIN
    closeness.NEAR, closeness.MARGIN = near, margin
    try:
        phrases = closed_phrases(shown)
        found = [(phrase, closeness.near_phrases(words, phrases)) for phrase, words in cases]
        right = sum(bool(near) and near[0].tag == phrase.tag for phrase, near in found)
        far = sum(bool(closeness.near_phrases(words, phrases + check_phrases(shown))) for words in FAR_TALK)
        return right, sum(bool(near) for _, near in found) - right, far
    finally:
        closeness.NEAR, closeness.MARGIN = kept


if __name__ == "__main__":
    questions = states()
    costs(questions)
    near_misses(questions[-1])
