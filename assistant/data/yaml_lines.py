"""YAML read strictly and fast: words stay words, a key given twice is an error, and every value knows its line.

Unlike plain YAML 1.1, ``yes``, ``no``, ``on`` and ``off`` stay strings: they are answers here, not booleans. Nothing
is built but dicts, lists, numbers and strings, and a file that would grow without end as it is read is refused: larger
or nested deeper than any knowledge, or of aliases that stand for aliases.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import yaml

from assistant.data.errors import LibraryError

_INT = re.compile(r"[-+]?[0-9]+\Z")
_FLOAT = re.compile(r"[-+]?(?:[0-9]+\.[0-9]*|\.[0-9]+|[0-9]+)(?:[eE][-+]?[0-9]+)?\Z")
_CONSTANTS: dict[str, bool | None] = {"true": True, "false": False, "null": None, "~": None, "": None}
_FIRST_OF_NUMBER = frozenset("+-.0123456789")

#: Largest file read, bytes, deepest nesting, and most values in one file: several times what any file of ours has.
_LARGEST = 2_000_000
_DEEPEST = 50
_MOST_VALUES = 200_000
#: Longer than this a number is none: Python itself refuses to read digits without end.
_LONGEST_NUMBER = 40

#: The way to a value: keys and places from the top.
Path_ = tuple[str | int, ...]

# libyaml when PyYAML was built with it; the pure reader is the same but slower.
_Base: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


class _Loader(_Base):  # type: ignore[misc]
    """Composes nodes without asking which kind YAML 1.1 takes each word for: ``_scalar`` alone says that here."""

    def resolve(self, kind: Any, value: Any, implicit: Any) -> str:
        """No kind: a third of the time that reading takes went into finding one that nobody looks at."""
        return ""


def read(file: Path) -> Any:
    """The plain value (dicts, lists, numbers, strings) in ``file``; raises ``LibraryError``."""
    return _Building(file).plain(_compose(file))


def written(value: Any) -> str:
    """``value`` (dicts, lists, numbers, strings) as a file that ``read`` takes for the same, in the order given.

    YAML 1.1, by which PyYAML writes, takes "12E3" and "08" for words and would leave them bare; here they are numbers.
    """
    text: str = yaml.dump(
        value, Dumper=_Dumper, sort_keys=False, allow_unicode=True, width=110, default_flow_style=None
    )
    return text


class _Dumper(yaml.SafeDumper):
    """Quotes words that ``_scalar`` would read as numbers."""


_Dumper.add_implicit_resolver("tag:yaml.org,2002:float", _FLOAT, sorted(_FIRST_OF_NUMBER))
_Dumper.add_implicit_resolver("tag:yaml.org,2002:int", _INT, sorted(_FIRST_OF_NUMBER))


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
    text = _text(file)
    try:
        return yaml.compose(text, Loader=_Loader)
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        line = mark.line + 1 if mark else 0
        what = f"this is not YAML ({error.problem or error.context})"
        raise LibraryError(file, line, what, "check the indentation, the colons and the quotes there") from None
    except RecursionError:  # the reader in Python; libyaml stops at a thousand levels with a MarkedYAMLError
        raise _Building(file).too_deep(0) from None
    except yaml.YAMLError:
        raise LibraryError(file, 0, "this is not YAML", "remove the control characters") from None


def _text(file: Path) -> str:
    try:
        if file.stat().st_size > _LARGEST:
            what = f"the file is larger than {_LARGEST // 1_000_000} MB"
            raise LibraryError(file, 0, what, "take out what does not belong there")
        return file.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        raise LibraryError(file, 0, "the file is not UTF-8 text", "save it again as UTF-8") from None
    except OSError as error:
        raise LibraryError(file, 0, f"it cannot be read ({error.strerror})", "check the file and its rights") from None


class _Building:
    """Plain values from the nodes of one file, no more of them and no deeper than any file of ours has."""

    def __init__(self, file: Path) -> None:
        self._file = file
        self._values = 0

    def plain(self, node: Any, depth: int = 0) -> Any:
        if node is None:
            return None
        line = node.start_mark.line + 1
        self._values += 1
        if self._values > _MOST_VALUES:
            what = "this stands for more values than can be read"
            raise LibraryError(self._file, line, what, "write the values themselves instead of aliases (“*name”)")
        if depth > _DEEPEST:
            raise self.too_deep(line)
        if isinstance(node, yaml.MappingNode):
            return self._mapping(node, depth)
        if isinstance(node, yaml.SequenceNode):
            return [self.plain(item, depth + 1) for item in node.value]
        return node.value if node.style else _scalar(node.value)

    def _mapping(self, node: Any, depth: int) -> dict[str, Any]:
        made: dict[str, Any] = {}
        for key, value in node.value:
            line = key.start_mark.line + 1
            if not isinstance(key, yaml.ScalarNode):
                what = "a name here is a list or a mapping"
                raise LibraryError(self._file, line, what, "give a plain name before the colon")
            name = str(key.value)
            if name in made:
                raise LibraryError(self._file, line, f"“{name}” is given twice", "keep one of them")
            made[name] = self.plain(value, depth + 1)
        return made

    def too_deep(self, line: int) -> LibraryError:
        return LibraryError(self._file, line, f"this is nested more than {_DEEPEST} deep", "write it flatter")


def _scalar(text: str) -> Any:
    if text in _CONSTANTS:
        return _CONSTANTS[text]
    if text[0] in _FIRST_OF_NUMBER and len(text) <= _LONGEST_NUMBER:
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
