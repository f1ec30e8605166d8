"""What the library check tells about grammar files: file, line, what, remedy."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.language.grammar import problems
from assistant.language.sources import folder, read, strings

HEAD = "#JSGF V1.0 UTF-8 en;\ngrammar {};\n"


def write(where: Path, **files: str) -> Path:
    for name, text in files.items():
        (where / f"{name}.jsgf").write_text(HEAD.format(name) + text, encoding="utf-8")
    (where / "soundalikes.txt").write_text("[same]\ntwo: to\n", encoding="utf-8")
    (where / "around.txt").write_text("[passed]\nabout\n", encoding="utf-8")
    (where / "notions.txt").write_text("fan: blower\n", encoding="utf-8")
    (where / "told-readings.txt").write_text("bus.volts: bus\n", encoding="utf-8")
    for name in ("asked.txt", "to-others.txt"):
        (where / name).write_text((folder() / name).read_text("utf-8"), encoding="utf-8")
    return where


@pytest.mark.parametrize(
    ("text", "line", "what"),
    [
        ("public <r> = a <missing>;", 3, "The rule <missing> is used in <r> but stands nowhere."),
        ("public <r> = a;\n<r> = b;", 4, "The rule <r> stands a second time; the first is in line 3."),
        ("public <r> = a <s>;\n<s> = [<r>];", 3, "The rule <r> uses itself."),
        ("public <r> = Volts;", 3, 'The word "Volts" in <r> can never be heard.'),
        ("public <r> = 5;", 3, 'The word "5" in <r> can never be heard.'),
        ("import <other.x>;\npublic <r> = a;", 3, "The import <other.x> finds nothing public."),
        ("public <r> = <state.colour>;", 3, "The rule <state.colour> is used in <r> but stands nowhere."),
        ("public <r> = (a;", 3, "Found \";\" where ')' must stand."),
    ],
)
def test_a_broken_grammar_is_told_with_its_place(tmp_path: Path, text: str, line: int, what: str) -> None:
    first = problems(where=write(tmp_path, bad=text))[0]
    assert (first.file, first.line, first.what) == ("bad.jsgf", line, what)
    assert first.remedy


def test_private_rules_of_another_grammar_are_not_found(tmp_path: Path) -> None:
    write(tmp_path, one="import <two.*>;\npublic <r> = <hidden>;", two="<hidden> = a;\npublic <shown> = b;")
    assert [problem.what for problem in problems(where=tmp_path)] == [
        "The rule <hidden> is used in <r> but stands nowhere."
    ]


def test_a_grammar_must_be_named_like_its_file(tmp_path: Path) -> None:
    (tmp_path / "a.jsgf").write_text(HEAD.format("b") + "public <r> = x;", encoding="utf-8")
    assert problems(where=tmp_path)[0].what == 'The grammar is named "b".'


def test_a_file_in_another_encoding_is_told(tmp_path: Path) -> None:
    (tmp_path / "a.jsgf").write_bytes((HEAD.format("a") + "public <r> = caf\u00e9;").encode("latin-1"))
    assert problems(where=tmp_path)[0].what == "The file is not written in UTF-8."


def test_an_empty_folder_is_told(tmp_path: Path) -> None:
    assert problems(where=tmp_path)[0].what == "No grammar was found."


def test_the_table_of_what_is_said_around_readings_is_checked(tmp_path: Path) -> None:
    write(tmp_path, one="public <r> = a;")
    (tmp_path / "around.txt").write_text("[passed]\nAbout\n[near]\nroughly\n", encoding="utf-8")
    found = problems(where=tmp_path)
    assert [(problem.line, problem.what) for problem in found] == [
        (2, '"About" can never be heard.'),
        (3, "The section [near] is unknown."),
    ]


def test_the_table_of_notions_is_checked(tmp_path: Path) -> None:
    write(tmp_path, one="public <r> = a;")
    (tmp_path / "notions.txt").write_text("fan: blower, wheel\npump wheel\nrotor: wheel\n", encoding="utf-8")
    found = problems(where=tmp_path)
    assert [(problem.line, problem.what) for problem in found] == [
        (2, '"pump wheel" cannot be read.'),
        (3, '"wheel" stands under fan already.'),
    ]


def test_the_table_of_told_readings_is_checked(tmp_path: Path) -> None:
    write(tmp_path, one="public <r> = a;")
    (tmp_path / "told-readings.txt").write_text("bus.volts: bus\nno name\nbus.volts: dc_bus\n", encoding="utf-8")
    found = problems(where=tmp_path)
    assert [(problem.line, problem.what) for problem in found] == [
        (2, '"no name" cannot be read.'),
        (3, "bus.volts stands there twice."),
    ]


def test_the_table_of_soundalikes_is_checked(tmp_path: Path) -> None:
    write(tmp_path, good="public <r> = a;")
    (tmp_path / "soundalikes.txt").write_text("[same]\ntwo to\n[alike]\n", encoding="utf-8")
    assert [(problem.line, problem.what) for problem in problems(where=tmp_path)] == [
        (2, '"two to" cannot be read.'),
        (3, "The section [alike] is unknown."),
    ]


def test_every_soundalike_stands_for_a_word_of_the_grammars_or_a_letter() -> None:
    from assistant.language.grammar import vocabulary
    from assistant.language.soundalikes import shipped

    words = {word for table in (shipped().same, shipped().near) for many in table.values() for word in many}
    extra = {"gray"}  # a colour that places are named by
    assert {word for word in words - vocabulary() - extra if len(word) > 1} == set()


def test_strings_lists_a_small_rule_whole() -> None:
    sources, found = read(folder())
    assert found == []
    rule = sources.find("answers.no", "answers")
    assert rule is not None
    assert {"no", "nope", "not yet"} <= set(strings(rule[0].expansion, sources.lookup({}), "answers"))
