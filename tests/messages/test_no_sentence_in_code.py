"""No sentence that is said stands in the code of dialogue and visit: all of them are messages of the catalogue."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2] / "assistant"
#: A few words that begin like a sentence and end like one.
SENTENCE = re.compile(r"[A-Z][a-z']*(?: [\w',;-]+){2,}[.?!]$")
#: Files of a replay or of repairing a journal: what they say is for the terminal of who called them.
FOR_THE_TERMINAL = {"responder.py", "truth.py", "repair.py", "reading.py", "chain.py", "backup.py", "salvage.py"}


def raised(tree: ast.Module) -> set[int]:
    """The parts of what is raised: one sentence of an error, told to the terminal."""
    return {id(part) for node in ast.walk(tree) if isinstance(node, ast.Raise) for part in ast.walk(node)}


def documented(tree: ast.Module) -> set[int]:
    return {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}


def literals(folder: str) -> Iterator[tuple[str, str]]:
    for file in sorted((ROOT / folder).rglob("*.py")):
        if file.name in FOR_THE_TERMINAL:
            continue
        tree = ast.parse(file.read_text(encoding="utf-8"))
        silent = raised(tree) | documented(tree)
        for node in ast.walk(tree):
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in silent:
                yield f"{folder}/{file.name}, line {node.lineno}", node.value


def prompts(place: str) -> bool:
    """What an ear is told of the answers to come ("Yes or no."), which nobody hears."""
    return place.startswith(("dialogue/asking.py", "dialogue/job_asking.py", "dialogue/altitude.py"))


def test_no_sentence_stands_in_the_code_of_dialogue_and_visit() -> None:
    found = [
        f"{place}: {text}"
        for folder in ("dialogue", "visit", "job")
        for place, text in literals(folder)
        if SENTENCE.search(text) and not prompts(place)
    ]
    assert not found


def test_a_sentence_would_be_found() -> None:
    assert SENTENCE.search("I cannot hear you. The microphone is gone.")
    assert not SENTENCE.search("select id from visit")
