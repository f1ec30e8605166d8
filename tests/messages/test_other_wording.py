"""A whole visit is read again in another wording: what the journal keeps is meant, not merely said."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from fluent.syntax import FluentParser, FluentSerializer
from fluent.syntax.ast import TextElement
from fluent.syntax.visitor import Transformer

from assistant.dialogue import facts as f
from assistant.library.loader import load
from assistant.messages.catalogue import Catalogue, knowledge_text
from assistant.messages.message import Amount, Message, Ref
from assistant.quantities.table import units
from assistant.visit.session import Knowledgeable
from tests.dialogue.walker import walk

ENGLISH = Path(__file__).parents[2] / "grammars" / "messages" / "en"
#: What stands for every word of the other wording.
WORD = "µµ"


class _Reworded(Transformer):
    def visit_TextElement(self, node: TextElement) -> TextElement:
        return TextElement(re.sub(r"[A-Za-z][A-Za-z'-]*", WORD, node.value))


@pytest.fixture(scope="module")
def other(tmp_path_factory) -> Catalogue:
    """The catalogue with every word of its own exchanged; knowledge, names and amounts stay."""
    folder = tmp_path_factory.mktemp("other")
    for path in ENGLISH.glob("*.ftl"):
        resource = _Reworded().visit(FluentParser().parse(path.read_text("utf-8")))
        (folder / path.name).write_text(FluentSerializer().serialize(resource), "utf-8")
    return Catalogue("en", folder)


def brought(message: Message, library) -> str:
    """All words that the message's values bring with them."""
    out = ""
    for _, value in message.values:
        match value:
            case Message():
                out += f" {brought(value, library)}"
            case Ref():
                out += f" {knowledge_text(library, value)}"
            case str():
                out += f" {value}"
    return out


def amounts(message: Message):
    for _, value in message.values:
        if isinstance(value, Amount):
            yield value
        elif isinstance(value, Message):
            yield from amounts(value)


#: How units are said, which stands in the table of quantities.
UNIT_WORDS = {word.casefold() for unit in units() for name in (unit.one, unit.many) for word in name.split()}


@pytest.mark.parametrize("seed", [3, 11, 27])
def test_a_visit_is_read_in_another_wording(seed: int, other: Catalogue):
    library = load()
    _, facts = walk(Knowledgeable(library), seed, turns=150)
    told = [fact.message for fact in facts if isinstance(fact, f.Said)]
    assert len(told) > 200
    for message in told:
        assert message is not None
        text = other.words(message, library)
        words = set(re.findall(r"[A-Za-z][A-Za-z'-]*", text.casefold()))
        values = set(re.findall(r"[A-Za-z][A-Za-z'-]*", brought(message, library).casefold()))
        assert words <= values | UNIT_WORDS, f"{message.id}: {sorted(words - values - UNIT_WORDS)} in {text!r}"


def test_the_verdicts_carry_amounts(other: Catalogue):
    library = load()
    _, facts = walk(Knowledgeable(library), 3, turns=150)
    judged = [fact.judgement for fact in facts if isinstance(fact, f.CheckJudged)]
    assert all(isinstance(each.says, Message) for each in judged)
    assert any(list(amounts(each.says)) for each in judged if isinstance(each.says, Message))


def test_no_value_is_a_sentence():
    """A value is a name, a number, or words that a person or the knowledge brought, never a sentence of the code."""
    library = load()
    _, facts = walk(Knowledgeable(library), 11, turns=150)
    heard = {"words", "the bakery in mill lane"}
    for fact in facts:
        if isinstance(fact, f.Said) and fact.message is not None:
            for text in _texts(fact.message):
                assert text in heard or len(text.split()) < 5 or fact.message.id in OF_PEOPLE, (fact.message.id, text)


#: Messages whose value is what somebody said, wrote into a profile, or what an ear doubts.
OF_PEOPLE = {"noted", "noted-site", "shown", "doubted", "in-words", "sum-refused", "unit", "goes-on-at", "source-named"}


def _texts(message: Message):
    for _, value in message.values:
        if isinstance(value, str):
            yield value
        elif isinstance(value, Message):
            yield from _texts(value)
