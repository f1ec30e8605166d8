"""The grammar format: what is read, and what is told when it cannot be."""

from __future__ import annotations

import pytest

from assistant.language.jsgf import NULL, VOID, Alt, GrammarError, Ref, Repeat, Seq, Tagged, Word, parse

HEAD = "#JSGF V1.0 UTF-8 en;\ngrammar test;\n"


def rule(text: str) -> object:
    return parse(f"{HEAD}public <r> = {text};", "test.jsgf").rules[0].expansion


def test_a_file_gives_its_name_imports_and_rules_with_lines() -> None:
    grammar = parse(f"{HEAD}import <other.*>;\n// said\n<one> = a;\n/* two\nlines */ public <two> = b;\n", "test.jsgf")
    assert (grammar.name, grammar.imports) == ("test", (("other.*", 3),))
    assert [(one.name, one.public, one.line) for one in grammar.rules] == [("one", False, 5), ("two", True, 7)]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("a b", Seq((Word("a"), Word("b")))),
        ("a | b", Alt(((1.0, Word("a")), (1.0, Word("b"))))),
        ("/3/ a | /0.5/ b", Alt(((3.0, Word("a")), (0.5, Word("b"))))),
        ("[a]", Repeat(Word("a"), 0, False)),
        ("a*", Repeat(Word("a"), 0, True)),
        ("(a b)+", Repeat(Seq((Word("a"), Word("b"))), 1, True)),
        ("a b {tag}", Seq((Word("a"), Tagged(Word("b"), "tag")))),
        ("(a b) {unit m3/h}", Tagged(Seq((Word("a"), Word("b"))), "unit m3/h")),
        (r"a {b\}c}", Tagged(Word("a"), "b}c")),
        ("<other.x> {t}+", Repeat(Tagged(Ref("other.x"), "t"), 1, True)),
        ("<NULL> | <VOID>", Alt(((1.0, NULL), (1.0, VOID)))),
        ('"two words" it\'s', Seq((Word("two words"), Word("it's")))),
    ],
)
def test_expansions(text: str, expected: object) -> None:
    assert rule(text) == expected


@pytest.mark.parametrize(
    ("text", "line", "what"),
    [
        ("grammar x;", 1, "The header is missing."),
        (f"{HEAD}<r> = a\n<s> = b;", 4, 'Found "=" where'),
        (f"{HEAD}<r> = (a;", 3, "Found \";\" where ')' must stand."),
        (f"{HEAD}<r> = a | ;", 3, "An expansion is empty."),
        (f"{HEAD}<r> = ;", 3, "An expansion is empty."),
        (f"{HEAD}<r> = a", 3, 'Found "the end of the file"'),
        (f"{HEAD}<r> = /0/ a | b;", 3, "The weight 0 is not a number above zero."),
        (f"{HEAD}<r> = a }} b;", 3, "The character '}' has no place here."),
        ("#JSGF V1.0;\n<r> = a;", 2, "Found \"<r>\" where 'word' must stand."),
    ],
)
def test_errors_name_file_and_line(text: str, line: int, what: str) -> None:
    with pytest.raises(GrammarError) as caught:
        parse(text, "test.jsgf")
    assert str(caught.value).startswith(f"test.jsgf, line {line}: {what}")
