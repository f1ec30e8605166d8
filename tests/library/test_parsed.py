"""The store of parsed YAML: only a help, never a source."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from assistant.library import parsed, yaml_lines
from assistant.library.errors import LibraryError
from assistant.library.loader import load
from assistant.library.parsed import Parsed, store_file


@pytest.fixture
def reads(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """Every file that was really parsed."""
    seen: list[Path] = []
    whole = yaml_lines.read

    def read(file: Path) -> object:
        seen.append(file)
        return whole(file)

    monkeypatch.setattr(parsed.yaml_lines, "read", read)
    return seen


def test_an_unchanged_file_is_parsed_once(tmp_path: Path, reads: list[Path]) -> None:
    file, store = tmp_path / "a.yaml", tmp_path / "store.json"
    file.write_text("a: [yes, 1, 2.5, null, {b: no}]\n", encoding="utf-8")
    first = Parsed(store)
    value = first.read(file)
    first.save()
    assert Parsed(store).read(file) == value == {"a": ["yes", 1, 2.5, None, {"b": "no"}]}
    assert reads == [file]


def test_a_changed_file_is_parsed_again(tmp_path: Path, reads: list[Path]) -> None:
    file, store = tmp_path / "a.yaml", tmp_path / "store.json"
    for text, expected in (("a: 1\n", {"a": 1}), ("a: 2\n", {"a": 2})):
        file.write_text(text, encoding="utf-8")
        reader = Parsed(store)
        assert reader.read(file) == expected
        reader.save()
    assert len(reads) == 2
    assert len(json.loads(store.read_text(encoding="utf-8"))) == 1  # the old one is forgotten


@pytest.mark.parametrize("spoilt", ["", "{", "[1, 2]", '"word"'])
def test_a_spoilt_store_is_passed_over(tmp_path: Path, spoilt: str) -> None:
    file, store = tmp_path / "a.yaml", tmp_path / "store.json"
    file.write_text("a: 1\n", encoding="utf-8")
    store.write_text(spoilt, encoding="utf-8")
    reader = Parsed(store)
    assert reader.read(file) == {"a": 1}
    reader.save()
    assert Parsed(store).read(file) == {"a": 1}


def test_a_store_that_cannot_be_written_is_no_trouble(tmp_path: Path) -> None:
    file = tmp_path / "a.yaml"
    file.write_text("a: 1\n", encoding="utf-8")
    reader = Parsed(file / "not-a-folder" / "store.json")
    assert reader.read(file) == {"a": 1}
    reader.save()


def test_a_missing_file_is_an_error(tmp_path: Path) -> None:
    with pytest.raises(LibraryError, match="cannot be read"):
        Parsed(tmp_path / "store.json").read(tmp_path / "none.yaml")


def test_the_whole_library_is_the_same_from_the_store(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, reads: list[Path]
) -> None:
    monkeypatch.setenv("LADDERSIDE_HOME", str(tmp_path))
    first = load()
    assert store_file().is_file()
    parsed_once = len(reads)
    again = load()
    assert len(reads) == parsed_once
    assert again.checks == first.checks
    assert again.suspects == first.suspects
    assert again.profiles == first.profiles


def test_where_the_store_lies(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.delenv("LADDERSIDE_HOME", raising=False)
    assert store_file() == tmp_path / "ladderside" / "knowledge.json"
