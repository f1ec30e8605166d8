"""What knows about heat pumps is named by the knowledge: no id of it stands in the code."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import get_args

import pytest

from assistant.data.errors import LibraryError
from assistant.language.meaning import EmergencyKind
from assistant.library.kinds import Does
from assistant.library.loader import Library, load
from tests.library.conftest import spoil

CODE = Path(__file__).parents[2] / "assistant"
#: Words of the code that an id of the knowledge happens to share, and what they are there.
OTHER_THINGS = {
    "put-back": "a kind of fact",
    "still-fed": "an outcome of the judge of dead points",
    "commissioning": "the system whose checks follow every repair",
    "network-adapter": "a part that a profile may have",
    "supply-drop": "a sum of the catalogue",
    "neutral-missing": "a pattern of voltages",
    "running-current": "a sum of the catalogue",
    "signal-source": "a place where the judge of signals measures",
    **dict.fromkeys(get_args(EmergencyKind), "what somebody calls out (grammars)"),
}


def ids(library: Library) -> set[str]:
    groups = (
        *(library.checks, library.suspects, library.symptoms, library.precautions, library.hazards, library.things),
        *(library.profiles, library.courses, {general.id for general in library.generals.values()}),
    )
    return {name for group in groups for name in group}


def words_of_code() -> Iterator[tuple[str, str]]:
    """Every string of the code with its place, docstrings and all, and what stands in it before a point."""
    for file in sorted(CODE.rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                place = f"{file.relative_to(CODE)}, line {node.lineno}"
                yield node.value, place
                yield node.value.partition(".")[0], place


def test_no_id_of_the_knowledge_stands_in_the_code(library: Library) -> None:
    known = ids(library)
    found = {f"{place}: {word}" for word, place in words_of_code() if word in known and word not in OTHER_THINGS}
    assert not found


def test_what_is_excepted_is_still_there(library: Library) -> None:
    used = {word for word, _ in words_of_code()}
    assert {word for word in OTHER_THINGS if word not in used} == set()


def test_all_that_the_dialogue_calls_upon_is_there_once(library: Library) -> None:
    assert {check.does for check in library.checks.values() if check.does} == set(get_args(Does))
    assert {library.raised_by(word).id for word in get_args(EmergencyKind)} <= set(library.hazards)
    assert library.opening


def test_two_that_do_the_same_are_refused_with_file_and_line(small: Path, tmp_path: Path) -> None:
    spoil(small, "    title: Measure the fuse", "    title: Measure the fuse\n    does: lock-out")
    spoil(small, "  - id: bulb-look\n", "  - id: bulb-look\n    does: lock-out\n")
    with pytest.raises(LibraryError, match="“does: lock-out” is said of bulb-look and of fuse-ohms") as caught:
        load(small, tmp_path)
    assert caught.value.line > 1
