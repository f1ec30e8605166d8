"""What may be meant, listed for people who write sentences without having seen Ladderside's phrases.

``python -m tests.words.to_say`` prints it from the knowledge: keys, what a question is about, what its answers amount
to, never the words that the grammar takes. ``described.txt`` holds the descriptions of what is no check.
``python -m tests.words.to_say --check FILE`` names the lines of a table that cannot be read.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from assistant.dialogue.scope import scope_at
from assistant.language import corpus
from assistant.language.meaning import Expectation
from assistant.library.loader import Library, load
from assistant.library.models import Check, Question

_HEADS = {
    "indication": "Symptoms: state visit.indication, kind complaint",
    "command": "Commands: state any, kind command",
    "cannot": "Reasons why a question is not answered: state a check question, kind cannot",
    "ask": "Questions back to the assistant: state a check question, kind question-back",
    "emergency": "Emergencies: state any, kind emergency",
}


def descriptions() -> dict[str, str]:
    """What each meaning is, in a neutral sentence."""
    text = Path(__file__).with_name("described.txt").read_text(encoding="utf-8")
    return dict(line.split("\t") for line in text.splitlines())


def page(library: Library) -> Iterator[str]:
    """The lines of the list, in Markdown."""
    yield "# What may be meant\n"
    before = ""
    for meaning, told in descriptions().items():
        kind = meaning.partition(":")[0]
        if kind != before:
            yield f"\n## {_HEADS[kind]}\n"
            before = kind
        yield f"- `{meaning}` {told}"
    yield "\n## Questions of the checks: kinds answer, reading, cannot, question-back; their facts also volunteered\n"
    yield "`KEY` is the state. The question is what the technician hears; each answer tells what it amounts to.\n"
    for check in library.checks.values():
        for question in check.ask:
            yield from _question(check, question)


def _question(check: Check, question: Question) -> Iterator[str]:
    yield f"- `{check.id}.{question.key}` ({check.title}) “{question.say}”"
    if question.reading is not None:
        asked = question.reading
        low, high = asked.plausible
        places = ", ".join(f"`@{place.id}`" for place in asked.places)
        yield (
            f"    - `reading:` {asked.quantity.replace('_', ' ')}, in {asked.unit}, {low:g} to {high:g} {asked.unit}"
            + (f"; one each at {places}" if places else "")
            + ("; `OL` possible" if asked.open_line else "")
        )
    for choice in question.choices:
        amounts = _amounts(check, choice.id)
        yield f"    - `choice:{choice.id}`" + (f": {amounts}" if amounts else "")


def _amounts(check: Check, choice: str) -> str:
    """What an answer amounts to, where the check has one outcome for it."""
    mapped = check.judge.options.get("map", {})
    outcome = check.outcomes.get(mapped.get(choice, choice)) if len(check.ask) == 1 else None
    return outcome.means if outcome is not None else ""


def unreadable(path: Path, library: Library) -> list[str]:
    """What is wrong with the lines of a table, each in a sentence; nothing of how they would be understood."""
    known: dict[str, Expectation | None] = {}

    def ask(key: str) -> Expectation | None:
        if key not in known:
            scope = scope_at(key, library)
            known[key] = scope.expectation if scope is not None else None
        return known[key]

    lines = path.read_text(encoding="utf-8").splitlines()
    wrong: list[str] = []
    for number in range(1, len(lines)):
        gone: list[str] = []
        with TemporaryDirectory() as folder:
            one = Path(folder) / path.name
            one.write_text(lines[0] + "\n" * number + lines[number] + "\n", encoding="utf-8")
            try:
                corpus.read(one, ask, gone)
            except corpus.CorpusError as error:
                gone.append(str(error))
        wrong += [text.replace(f"{folder}/", "") for text in gone]
    return wrong


if __name__ == "__main__":
    if sys.argv[1:2] == ["--check"]:
        print("\n".join(unreadable(Path(sys.argv[2]), load())) or "Every line can be read.")
    else:
        print("\n".join(page(load())))
