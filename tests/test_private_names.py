"""A name that begins with an underscore is its module's or its class's own: nobody else reaches for it."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
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
