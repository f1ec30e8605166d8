"""What is told stands as data in the catalogue and the knowledge: the dialogue's code holds no sentence of its own."""

import ast
from pathlib import Path

import pytest

DIALOGUE = Path(__file__).parents[2] / "assistant" / "dialogue"
#: Calls whose words are not spoken: what a technician may say, the page of it, a pattern, a heading for the ears.
NOT_SPOKEN = ("Choice", "_phrases", "removeprefix", "Line", "Page", "Expectation", "compile", "TypeAdapter")
#: Pages made for the contributor and for ``ladderside words`` are printed; what may be answered about the job is heard.
PRINTED = ("allowed.py", "sayable.py", "job_asking.py")


def literals_of_words(source: str):
    """(line, text) of every text of two words or more in the code that could be spoken."""
    tree = ast.parse(source)
    passed = {id(part) for node in ast.walk(tree) for part in _not_spoken(node)}
    for node in ast.walk(tree):
        if id(node) in passed:
            continue
        if isinstance(node, ast.JoinedStr):
            text = "".join(str(part.value) if isinstance(part, ast.Constant) else "{}" for part in node.values)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            text = node.value
        else:
            continue
        words = [word for word in text.split() if any(letter.isalpha() for letter in word)]
        if len(words) > 1:
            yield node.lineno, text


def _not_spoken(node):
    if isinstance(node, ast.JoinedStr):  # seen as a whole
        yield from node.values
    if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):  # a docstring
        yield node.value
    if isinstance(node, ast.Call) and getattr(node.func, "attr", getattr(node.func, "id", "")) in NOT_SPOKEN:
        yield from ast.walk(node)
    if isinstance(node, ast.Raise | ast.Assert):
        yield from ast.walk(node)


def enumerated():
    """What the facts list as values of a field ("confirmed by voice"): names, not sentences."""
    for path in (DIALOGUE / "facts").glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Subscript) and getattr(node.value, "id", "") == "Literal":
                yield from (part.value for part in ast.walk(node.slice) if isinstance(part, ast.Constant))


@pytest.mark.parametrize(
    "path", [path for path in sorted(DIALOGUE.rglob("*.py")) if path.name not in PRINTED], ids=lambda path: path.name
)
def test_no_sentence_stands_in_the_code_of_the_dialogue(path):
    names = set(enumerated())
    words = literals_of_words(path.read_text("utf-8"))
    found = [f"{path.name}:{line} {text!r}" for line, text in words if text not in names]
    assert not found, "make it a message of grammars/messages: " + "; ".join(found)


def test_the_test_sees_a_sentence():
    code = 'def f(turn):\n    """A docstring here."""\n    turn.tell_why("Say it again.")\n    g(f"And {place} now?")\n'
    assert [text for _, text in literals_of_words(code)] == ["Say it again.", "And {} now?"]
