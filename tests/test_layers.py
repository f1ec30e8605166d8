"""The contributor's guide draws the imports as they are."""

from __future__ import annotations

import re
from pathlib import Path

import grimp
import pytest

ROOT = Path(__file__).parent.parent
GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
#: Modules of the top level that everything may use; the guide names them in a sentence.
FOR_ALL = {"errors", "model", "devices", "offline", "printable"}


def _rows() -> dict[str, tuple[set[str], set[str]]]:
    """By package: what it builds on, and what it knows nothing of, as the guide has them."""
    cells = re.findall(r"^\| `assistant/(\w+)` \|[^|]*\|([^|]*)\|([^|]*)\|$", GUIDE, re.M)
    return {name: (set(re.findall(r"`(\w+)`", on)), set(re.findall(r"`(\w+)`", not_of))) for name, on, not_of in cells}


ROWS = _rows()


@pytest.fixture(scope="module")
def known() -> dict[str, set[str]]:
    """By package: the packages that it imports from itself."""
    graph = grimp.build_graph("assistant", exclude_type_checking_imports=True)
    known: dict[str, set[str]] = {package.rpartition(".")[2]: set() for package in graph.find_children("assistant")}
    for module in graph.modules:
        for other in graph.find_modules_directly_imported_by(module):
            if module.count(".") and other.count(".") and module.split(".")[1] != other.split(".")[1]:
                known[module.split(".")[1]].add(other.split(".")[1])
    return known


def test_every_package_has_its_row(known: dict[str, set[str]]) -> None:
    packages = {folder.name for folder in (ROOT / "assistant").iterdir() if (folder / "__init__.py").is_file()}
    assert set(ROWS) == packages
    assert set(known) == packages | FOR_ALL | {"__main__"}


@pytest.mark.parametrize("package", [name for name in ROWS if name != "commands"])
def test_what_it_builds_on_is_what_it_imports(known: dict[str, set[str]], package: str) -> None:
    cell = " ".join(f"`{name}`" for name in sorted(known[package] - FOR_ALL)) or "—"
    assert known[package] - FOR_ALL == ROWS[package][0], f"write in DEVELOPERS.md, row {package}: {cell}"


@pytest.mark.parametrize("package", [name for name in ROWS if name != "commands"])
def test_it_knows_nothing_of_them_by_no_way_round(known: dict[str, set[str]], package: str) -> None:
    assert ROWS[package][1], "say what it knows nothing of"
    reached: set[str] = set()
    ahead = {package}
    while ahead:
        step = ahead.pop()
        reached.add(step)
        ahead |= known[step] - reached
    assert not reached & ROWS[package][1]


def test_only_the_shell_is_above_everything(known: dict[str, set[str]]) -> None:
    assert not {package for package, others in known.items() if "commands" in others} - {"__main__"}


def test_where_does_it_live_names_places_that_are_there() -> None:
    page = GUIDE.split("## Where does it live")[1].split("\n## ")[0]
    rows = re.findall(r"^\| ([^|`]+[^|]*) \| (`[^|]+) \|$", page, re.M)
    assert len(rows) >= 20
    for question, places in rows:
        for place in re.findall(r"`([^`]+)`", places):
            assert (ROOT / place).exists(), f"{question}: {place}"


def test_every_path_in_the_guide_is_there() -> None:
    """Whole paths only: what stands after its folder's name ("proposals.py") is found by eye."""
    for place in re.findall(r"`((?:assistant|grammars|knowledge|tests|recordings_synthetic)/[\w./-]+)`", GUIDE):
        assert (ROOT / place).exists(), place
