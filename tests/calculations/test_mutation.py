"""Mutation testing at the size that CI can bear: what was once missed is noticed; ``tests.mutation`` does the whole."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.mutants import mutants

ROOT = Path(__file__).parent.parent.parent


def test_mistakes_at_weak_spots_are_noticed() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "tests.mutation", "--aimed"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr


def test_an_equal_module_is_not_killed(monkeypatch: pytest.MonkeyPatch) -> None:
    """What finds every mistake might only be what cannot pass."""
    from tests.mutants import Mutant
    from tests.mutation import is_killed

    monkeypatch.chdir(ROOT)
    path = Path("assistant/calculations/power_stage.py")
    same = Mutant(path, 1, "module", "nothing", path.read_text(encoding="utf-8") + "\n")
    assert not is_killed(same, ["tests/calculations/test_pins.py::test_it_answers_as_it_did[bleed-time]"])


def test_a_mistake_is_put_in_wherever_it_stands(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Also into a comprehension in a function, which is code of its own; what runs at the import is imported anew."""
    from tests.mutants import Mutant
    from tests.mutation import put_in, swapped

    text = "class A:\n    size = 2\nB = [x * 2 for x in (1, 2)]\ndef f(*v):\n    return sum([x + 1 for x in v])\n"
    path = tmp_path / "m.py"
    path.write_text(text)
    module: dict[str, Any] = {}
    exec(compile(text, str(path), "exec"), module)

    def mistaken(old: str, new: str) -> Mutant:
        return Mutant(path, 1, "module", new, text.replace(old, new))

    assert swapped(mistaken("size = 2", "size = 3")) is None
    assert swapped(mistaken("x * 2", "x / 2")) is None
    changed = swapped(mistaken("x + 1", "x - 1"))
    assert changed
    put_in(changed, path)
    assert module["f"](5, 5) == 8


def test_every_kind_of_mistake_is_made(tmp_path: Path) -> None:
    text = "A = 1.5\nB = -2\ndef f(x, y):\n    return min(x + 1, y) if x < 3 < y and not y else f'{x + 1}' + 'a'\n"
    (tmp_path / "m.py").write_text(text)
    made = [mutant.source for mutant in mutants(tmp_path / "m.py")]
    assert len(made) == len(set(made)) >= 10
    assert all(ast.dump(ast.parse(source)) != ast.dump(ast.parse(text)) for source in made)
    assert not any("x - 1}" in source for source in made), "places inside f-strings are not known"
