"""The table of checks tells the truth about what it counted."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from assistant.calculations.catalogue import CATALOGUE
from tests.calculation_table import BEGIN, END, Counting, table, write_into


def test_counts_kinds_apart() -> None:
    counting = Counting()
    counting.outside["superheat", "example"] = 3
    counting.outside["superheat", "memory"] = 2
    counting.outside["supply-frequency", "memory"] = 5
    counting.outside["power", "formula"] = 3
    counting.outside["power", "verdict"] = 1
    text = table(counting)
    assert "| superheat |  |  | 3 |  |  | 3 | 2 |  |" in text
    assert "| **all** | **0** | **0** | **3** | **0** | **0** | **3** | **11** | **0** |" in text
    assert "by what is not counted: power, supply-frequency." in text or "supply-frequency, power." in text
    bare = text.split("No outside check: ")[1]
    assert "superheat-judged" in bare
    assert len(bare.split(", ")) == len(CATALOGUE) - 3


def test_a_mark_for_nothing_is_refused() -> None:
    counting = Counting()
    counting.properties["moonlight"] = 1
    with pytest.raises(SystemExit, match="moonlight"):
        table(counting)


def test_written_between_its_markers_only(tmp_path: Path) -> None:
    readme = tmp_path / "README.md"
    readme.write_text(f"before\n{BEGIN}\nold\n{END}\nafter\n", encoding="utf-8")
    write_into(readme, "new")
    assert readme.read_text(encoding="utf-8") == f"before\n{BEGIN}\nnew\n{END}\nafter\n"
    readme.write_text("no markers", encoding="utf-8")
    with pytest.raises(SystemExit, match="needs the lines"):
        write_into(readme, "new")


def test_the_table_in_the_readme_is_current() -> None:
    root = Path(__file__).parent.parent.parent
    made = subprocess.run(
        [sys.executable, "-m", "tests.calculation_table", "--marked"],
        cwd=root,
        capture_output=True,
        text=True,
        check=True,
    ).stdout.strip()
    written = (root / "tests/reference/README.md").read_text(encoding="utf-8").split(BEGIN)[1].split(END)[0].strip()
    assert written == made, "python -m tests.calculation_table --into tests/reference/README.md"
