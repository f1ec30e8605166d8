"""The contributor's guide draws the imports as they are, and what a module keeps for itself nobody else reaches for."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
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


# ---- a name that begins with an underscore is its module's or its class's own --------------------------------------

FOLDERS = ("assistant", "tests", "recordings_synthetic", "grammars", ".ci")
#: What the standard library calls public in spite of its underscore.
PUBLIC = {"_replace", "_asdict", "_fields", "_make", "_exit"}
#: Private names of dependencies, each with the reason why there is no public one.
ALLOWED = {
    ("assistant/devices.py", "_terminate"): "PortAudio lists devices once; sounddevice has no other way to list anew",
    ("assistant/devices.py", "_initialize"): "as above",
    ("assistant/devices.py", "_exit_handler"): "waits for ever for a sound server that died; nothing else stops it",
    ("tests/soundcard.py", "_terminate"): "as in assistant/devices.py",
    ("tests/soundcard.py", "_initialize"): "as in assistant/devices.py",
    ("assistant/hearing/ears/acoustics.py", "_engine"): "checks a file of weights that the public reader would load",
    ("assistant/speaking/synthesis.py", "_espeak"): "pyttsx3 has no way to wait until espeak has written its file",
}


def _is_private(name: str) -> bool:
    return name.startswith("_") and not name.startswith("__") and name != "_" and name not in PUBLIC


def _own(tree: ast.Module) -> set[str]:
    """Names that the module itself gives: functions, classes, variables, attributes and fields."""
    own = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            own.add(node.name)
        elif isinstance(node, ast.Attribute) and isinstance(node.ctx, ast.Store):
            own.add(node.attr)
        elif isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
            own.add(node.id)
    return own


def reached(text: str) -> Iterator[str]:
    """Private names of others that a module's text reaches for; what a class inherits is its own."""
    tree = ast.parse(text)
    own = _own(tree)
    for node in ast.walk(tree):
        match node:
            case ast.ImportFrom(module=module, names=names):
                yield from (one.name for one in names if _is_private(one.name))
                yield from (part for part in (module or "").split(".") if _is_private(part))
            case ast.Import(names=names):
                yield from (part for one in names for part in one.name.split(".") if _is_private(part))
            case ast.Attribute(value=ast.Name(id="self" | "cls"), attr=name):
                pass
            case ast.Attribute(attr=name) if _is_private(name) and name not in own:
                yield name
            case ast.Call(func=ast.Name(id="getattr" | "setattr") | ast.Attribute(attr="setattr"), args=args):
                texts = (one.value for one in args if isinstance(one, ast.Constant) and isinstance(one.value, str))
                yield from (part for part in (text.split(".")[-1] for text in texts) if _is_private(part))


def _modules() -> list[Path]:
    return [path for folder in FOLDERS for path in sorted((ROOT / folder).rglob("*.py"))]


def test_no_private_name_is_reached_for() -> None:
    found = {
        (str(path.relative_to(ROOT)), name) for path in _modules() for name in reached(path.read_text(encoding="utf-8"))
    }
    assert found - ALLOWED.keys() == set(), "give it a public name, or a public way"
    assert ALLOWED.keys() - found == set(), "no longer needed here"


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("from other import _inner", ["_inner"]),
        ("import other._inner", ["_inner"]),
        ("other._inner()", ["_inner"]),
        ("patch.setattr(other, '_inner', 1)", ["_inner"]),
        ("class A:\n def f(self): return self._mine", []),
        ("class A:\n def __init__(self): self._mine = 1\ndef f(a): return a._mine", []),
        ("row._replace(x=1)", []),
    ],
)
def test_the_ways_to_reach_for_one_are_seen(text: str, names: list[str]) -> None:
    assert list(reached(text)) == names
