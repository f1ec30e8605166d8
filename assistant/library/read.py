"""Reads one YAML file as one kind of model, or says what is wrong on which line."""

from __future__ import annotations

from pathlib import Path
from typing import Any, TypeVar

from pydantic import ValidationError

from assistant.data import yaml_lines
from assistant.data.errors import LibraryError
from assistant.model import Model

M = TypeVar("M", bound=Model)


def read_as(kind: type[M], file: Path) -> M:
    """``file`` as one ``kind``; raises ``LibraryError`` with line and remedy when it does not fit."""
    return _validated(kind, yaml_lines.read(file), file)


def _validated(kind: type[M], data: Any, file: Path) -> M:
    if not isinstance(data, dict):
        raise LibraryError(file, 1, "the file is empty or not a list of “name: value”", "fill it or delete it")
    try:
        return kind.model_validate(data)
    except ValidationError as error:
        first = error.errors()[0]
        path = first["loc"]
        line = yaml_lines.line_of(file, path)
        raise LibraryError(file, line, _what(path, first), _remedy(first)) from None


def _what(path: tuple[str | int, ...], error: Any) -> str:
    where = " › ".join(str(step + 1) if isinstance(step, int) else step for step in path) or "the whole file"
    return f"{where}: {error['msg'][0].lower()}{error['msg'][1:]}"


_REMEDIES = {
    "extra_forbidden": "remove it or correct its spelling",
    "missing": "add it",
    "string_type": "put it in quotes",
    "literal_error": "use one of the values named",
    "string_pattern_mismatch": "use small letters, digits and single hyphens",
    "string_too_long": "say it in fewer words",
}


def _remedy(error: Any) -> str:
    return _REMEDIES.get(error["type"], "correct it there")


def yaml_files(folder: Path) -> list[Path]:
    """The YAML files below a folder, in the order of their names."""
    return sorted(file for file in folder.rglob("*.yaml") if file.is_file())
