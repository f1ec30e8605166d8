"""Code and catalogue agree: every message named has words, takes the values given, and none stands there for nobody."""

import ast
from pathlib import Path

import pytest

from assistant.library.loader import load
from assistant.messages.catalogue import MessageError, catalogue, knowledge_text, sentence
from assistant.messages.message import Message, known, message

ROOT = Path(__file__).parents[2] / "assistant"
#: Calls whose first argument, if it is a literal, is the id of a message and whose keywords are its values.
MAKERS = ("tell", "message")


def _made():
    """(file, line, id, values or None where they are not literal keywords) of every message made in the code."""
    for path in sorted(ROOT.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if not isinstance(node, ast.Call):
                continue
            name = getattr(node.func, "attr", getattr(node.func, "id", ""))
            if name not in MAKERS or not node.args:
                continue
            for part in _told(node.args[0]):  # also both branches of "a" if x else "b"
                if isinstance(part, ast.Constant) and isinstance(part.value, str):
                    names = [keyword.arg for keyword in node.keywords]
                    values = None if None in names else frozenset(names)
                    yield path.relative_to(ROOT), node.lineno, part.value, values


def _told(node):
    """What may be told: the parts of an expression, without those of a text of the knowledge (known(...))."""
    if isinstance(node, ast.Call):
        return
    if isinstance(node, ast.IfExp):
        yield from (*_told(node.body), *_told(node.orelse))
    else:
        yield node


def _named():
    """Every text in the code that could be an id kept in a table."""
    return {
        node.value
        for path in ROOT.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }


def test_every_message_has_words_and_takes_the_values_it_is_given():
    takes = catalogue().variables
    wrong = []
    for path, line, name, values in _made():
        if name not in takes:
            wrong.append(f"{path}:{line} {name}: no words")
        elif values is not None and values != takes[name]:
            wrong.append(f"{path}:{line} {name}: gives {sorted(values)}, takes {sorted(takes[name])}")
    assert not wrong, "\n".join(wrong)


def test_no_message_stands_there_for_nobody():
    named = _named()
    assert not [name for name in catalogue().variables if name not in named and not _by_pattern(name, named)]


def _by_pattern(name, named):
    """Ids that code puts together: "energy-" + state. The code holds the part up to a dash."""
    parts = name.split("-")
    return any("-".join(parts[:end]) + "-" in named for end in range(1, len(parts)))


def test_words_of_the_knowledge():
    library = load()
    assert knowledge_text(library, known("checks", "prove-dead", "why")).startswith("A bleed resistor")
    assert knowledge_text(library, known("checks", "prove-dead", "ask.voltage.say"))
    with pytest.raises(MessageError, match="no text"):
        knowledge_text(library, known("checks", "prove-dead", "nothing"))


def test_a_message_survives_the_journal():
    inner = message("knowledge", text=known("checks", "prove-dead", "why"))
    whole = message("knowledge", text=inner)
    assert Message.model_validate_json(whole.model_dump_json()) == whole
    assert catalogue().words(whole, load()).startswith("A bleed resistor")


def test_unknown_message_is_one_sentence():
    with pytest.raises(MessageError, match="There are no words"):
        catalogue().words(message("no-such-message"), None)


def test_sentence():
    assert sentence("a plug is loose") == "A plug is loose."
    assert sentence("Right?") == "Right?"


#: Calls of the judges that name a variant of a message.
CHOOSERS = {"missing_limit": "figure", "missing_reading": "take-again"}


def test_every_figure_and_reading_that_a_judge_misses_has_its_words():
    """A variant that is not there would be told as the usual one."""
    judging = "".join(path.read_text("utf-8") for path in (ROOT.parent / "grammars/messages/en").glob("judging*.ftl"))
    seen = set()
    for path in (ROOT / "reasoning" / "judges").glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if not isinstance(node, ast.Call) or not node.args or not isinstance(node.args[0], ast.Constant):
                continue
            name, missed = CHOOSERS.get(getattr(node.func, "attr", ""), ""), str(node.args[0].value)
            if name:
                words = judging.partition(f"\n{name} = ")[2].partition("\n}")[0]
                assert f"[{missed}]" in words, f"{path.name}:{node.lineno} {name}"
                seen.add(missed)
    assert len(seen) > 25
