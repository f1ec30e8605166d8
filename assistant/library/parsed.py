"""Remembers what YAML said: reading half a megabyte of it takes longer than all the rest of a start.

Each file's plain value is kept as JSON under the hash of its bytes, so a changed file is always read again and an
unchanged one never. The store is only a help: without it, or with a spoilt one, the YAML is read.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
from pathlib import Path
from typing import Any

from assistant.library import yaml_lines
from assistant.library.errors import LibraryError
from assistant.library.files import write_whole

#: Part of every key: a change of how YAML is read makes old entries worthless.
_READER = "1"


def store_file() -> Path:
    """Where the values are kept: the user's cache, or LADDERSIDE_HOME when that is set."""
    own = os.environ.get("LADDERSIDE_HOME")
    if own:
        return Path(own).expanduser() / "cache" / "knowledge.json"
    base = os.environ.get("XDG_CACHE_HOME")
    return (Path(base) if base else Path.home() / ".cache") / "ladderside" / "knowledge.json"


class Parsed:
    """Reads files through the store. ``save`` writes it again when anything had to be read afresh."""

    def __init__(self, store: Path) -> None:
        self._store = store
        self._kept = _load(store)
        self._used: dict[str, Any] = {}
        self._fresh = False

    def read(self, file: Path) -> Any:
        """The plain value in ``file``; raises LibraryError."""
        try:
            key = hashlib.sha256(_READER.encode() + file.read_bytes()).hexdigest()
        except OSError as error:
            what = f"it cannot be read ({error.strerror})"
            raise LibraryError(file, 0, what, "check the file and its rights") from None
        if key not in self._kept:
            self._kept[key] = yaml_lines.read(file)
            self._fresh = True
        self._used[key] = self._kept[key]
        return self._used[key]

    def save(self) -> None:
        """Keep what was used, when it changed; a full or read-only disk only means a slower start."""
        if self._fresh:
            with contextlib.suppress(OSError):
                write_whole(self._store, json.dumps(self._used, ensure_ascii=False))


def _load(store: Path) -> dict[str, Any]:
    try:
        kept = json.loads(store.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return kept if isinstance(kept, dict) else {}
