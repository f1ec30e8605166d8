"""YAML read strictly and fast: words stay words, a key given twice is an error, and every value knows its line.

Unlike plain YAML 1.1, ``yes``, ``no``, ``on`` and ``off`` stay strings: they are answers here, not booleans.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import yaml

from assistant.library.errors import LibraryError

_INT = re.compile(r"[-+]?[0-9]+\Z")
_FLOAT = re.compile(r"[-+]?(?:[0-9]+\.[0-9]*|\.[0-9]+|[0-9]+)(?:[eE][-+]?[0-9]+)?\Z")
_CONSTANTS: dict[str, bool | None] = {"true": True, "false": False, "null": None, "~": None, "": None}
_FIRST_OF_NUMBER = frozenset("+-.0123456789")

#: The way to a value: keys and places from the top.
Path_ = tuple[str | int, ...]

# libyaml when PyYAML was built with it; the pure reader is the same but slower.
_Loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


def read(file: Path) -> Any:
    """The plain value (dicts, lists, numbers, strings) in ``file``; raises ``LibraryError``."""
    return _plain(_compose(file), file)


class Written:
    """A file as it is written: where in it a value stands. Composed once, so that many places may be asked."""

    def __init__(self, file: Path) -> None:
        self.file = file
        self._root = _compose(file)

    def line(self, path: Path_) -> int:
        """The line (from 1) of the value at ``path``, or of its nearest parent that is written there."""
        return self._walk(path)[0]

    def has(self, path: Path_) -> bool:
        """Whether the whole of ``path`` is written here."""
        return self._walk(path)[1] == len(path)

    def item(self, group: str, item_id: str) -> Path_ | None:
        """The path of the item of this id in the list ``group`` ("checks", "suspects", ...), if it is here."""
        listed = _step(self._root, group)
        items = listed[1].value if listed and isinstance(listed[1], yaml.SequenceNode) else []
        for place, node in enumerate(items):
            found = _step(node, "id")
            if found is not None and found[1].value == item_id:
                return (group, place)
        return None

    def _walk(self, path: Path_) -> tuple[int, int]:
        node = self._root
        line: int = node.start_mark.line + 1 if node is not None else 1
        for done, step in enumerate(path):
            found = _step(node, step)
            if found is None:
                return line, done
            line, node = found
        return line, len(path)


def line_of(file: Path, path: Path_) -> int:
    """The line (from 1) of the value at ``path`` in ``file``, or of its nearest parent that is written there."""
    return Written(file).line(path)


def _compose(file: Path) -> Any:
    try:
        text = file.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        raise LibraryError(file, 0, "the file is not UTF-8 text", "save it again as UTF-8") from None
    except OSError as error:
        raise LibraryError(file, 0, f"it cannot be read ({error.strerror})", "check the file and its rights") from None
    try:
        return yaml.compose(text, Loader=_Loader)
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        line = mark.line + 1 if mark else 0
        what = f"this is not YAML ({error.problem or error.context})"
        raise LibraryError(file, line, what, "check the indentation, the colons and the quotes there") from None
    except yaml.YAMLError as error:
        remedy = "remove the control characters"
        raise LibraryError(file, 0, f"this is not YAML ({str(error).splitlines()[0]})", remedy) from None


def _plain(node: Any, file: Path) -> Any:
    if node is None:
        return None
    if isinstance(node, yaml.MappingNode):
        return _mapping(node, file)
    if isinstance(node, yaml.SequenceNode):
        return [_plain(item, file) for item in node.value]
    return node.value if node.style else _scalar(node.value)


def _mapping(node: Any, file: Path) -> dict[str, Any]:
    made: dict[str, Any] = {}
    for key, value in node.value:
        name = str(key.value)
        if name in made:
            line = key.start_mark.line + 1
            raise LibraryError(file, line, f"“{name}” is given twice", "keep one of them")
        made[name] = _plain(value, file)
    return made


def _scalar(text: str) -> Any:
    if text in _CONSTANTS:
        return _CONSTANTS[text]
    if text[0] in _FIRST_OF_NUMBER:
        if _INT.match(text):
            return int(text)
        if _FLOAT.match(text):
            return float(text)
    return text


def _step(node: Any, step: str | int) -> tuple[int, Any] | None:
    if isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            if key.value == step:
                return key.start_mark.line + 1, value
    if isinstance(node, yaml.SequenceNode) and isinstance(step, int) and step < len(node.value):
        item = node.value[step]
        return item.start_mark.line + 1, item
    return None
