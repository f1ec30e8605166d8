"""YAML read strictly: answers stay words, keys are unique, every value knows its line."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from assistant.data.errors import LibraryError
from assistant.data.yaml_lines import Written, line_of, read, written


def _file(folder: Path, text: str) -> Path:
    file = folder / "sample.yaml"
    file.write_text(text, encoding="utf-8")
    return file


def test_answers_stay_words(tmp_path: Path) -> None:
    file = _file(tmp_path, "a: yes\nb: no\nc: on\nd: off\ne: [yes, n]\nf: 12:30\n")
    assert read(file) == {"a": "yes", "b": "no", "c": "on", "d": "off", "e": ["yes", "n"], "f": "12:30"}


def test_scalars(tmp_path: Path) -> None:
    text = 'a: 1\nb: -2.5\nc: .5\nd: 1e3\ne: "1"\nf: true\ng: null\nh:\ni: 1.2.3\nj: r32\nk: 1_0\n'
    assert read(_file(tmp_path, text)) == {
        "a": 1, "b": -2.5, "c": 0.5, "d": 1000.0, "e": "1", "f": True, "g": None, "h": None, "i": "1.2.3",
        "j": "r32", "k": "1_0",
    }  # fmt: skip


@example("0E0")
@example("08")
@example("12E3")
@example("2026-03-04")
@example(["+1", "1:30", "0x1F", "1_000", "=", "null", "~", "yes", ""])
@given(
    st.recursive(
        st.integers(-(10**9), 10**9)
        | st.floats(allow_nan=False, allow_infinity=False, width=32)
        | st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc")), max_size=12),
        lambda inner: (
            st.lists(inner, max_size=3) | st.dictionaries(st.text("abcxyz", min_size=1, max_size=5), inner, max_size=3)
        ),
        max_leaves=8,
    )
)
def test_what_is_written_is_read_as_the_same(tmp_path_factory: pytest.TempPathFactory, value: object) -> None:
    file = _file(tmp_path_factory.mktemp("dump"), written({"v": value}))
    assert read(file) == {"v": value}


def test_a_key_given_twice_is_refused_with_its_line(tmp_path: Path) -> None:
    with pytest.raises(LibraryError, match=r"line 3.*“a” is given twice.*keep one") as caught:
        read(_file(tmp_path, "a: 1\nb: 2\na: 3\n"))
    assert caught.value.line == 3


@pytest.mark.parametrize(
    ("text", "line"), [("a: [1, 2\nb: 3\n", 2), ("a: 1\n b: 2\n", 2), ("a: 'open\n", 2), ("a: \tb\n\t- c\n", 2)]
)
def test_broken_yaml_names_file_line_and_remedy(tmp_path: Path, text: str, line: int) -> None:
    with pytest.raises(LibraryError, match=r"sample.yaml, line \d+: this is not YAML .*; check the ind") as caught:
        read(_file(tmp_path, text))
    assert abs(caught.value.line - line) <= 1


def test_binary_and_missing_files_are_refused(tmp_path: Path) -> None:
    file = tmp_path / "sample.yaml"
    file.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(LibraryError, match="not UTF-8"):
        read(file)
    with pytest.raises(LibraryError, match="cannot be read"):
        read(tmp_path / "none.yaml")


def test_lines(tmp_path: Path) -> None:
    file = _file(tmp_path, "top:\n  - id: one\n    x: 1\n  - id: two\n    deep:\n      y: 2\n")
    assert line_of(file, ("top", 1, "deep", "y")) == 6
    assert line_of(file, ("top", 1, "absent", "z")) == 4
    written = Written(file)
    assert written.item("top", "two") == ("top", 1)
    assert written.item("top", "three") is None
    assert written.has(("top", 1, "deep"))
    assert not written.has(("top", 1, "absent"))
