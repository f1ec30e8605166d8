"""A whole visit is read again in another wording: what the journal keeps is meant, not merely said."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from fluent.syntax import FluentParser, FluentSerializer
from fluent.syntax.ast import TextElement
from fluent.syntax.visitor import Transformer

from assistant.dialogue import facts as f
from assistant.dialogue.altitude import SEA_LEVEL
from assistant.dialogue.asking import MEND_LIKELIEST, NOTHING, PROFILE_UNKNOWN, REPAIR_DONE
from assistant.dialogue.job_asking import ALL_GOOD, FIELD_CHOICES, PLACES, POINT, UNSAID
from assistant.dialogue.nameable import components
from assistant.language.closed import REFRIGERANTS, SUPPLIES, YES_NO
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


@pytest.mark.parametrize("seed", [3, 11, 31])
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


def test_the_verdicts_carry_amounts():
    library = load()
    walks = (walk(Knowledgeable(library), seed, turns=150)[1] for seed in range(6, 10))
    judged = [fact.judgement for facts in walks for fact in facts if isinstance(fact, f.CheckJudged)]
    assert all(isinstance(each.says, Message) for each in judged)
    assert any(list(amounts(each.says)) for each in judged if isinstance(each.says, Message))


#: Messages whose value is what somebody said, wrote into a profile or a source, or what an ear doubts.
OF_PEOPLE = {"course-closed", "noted", "noted-site", "shown", "doubted", "sum-refused", "sum", "source-named", "tools"}
OF_PEOPLE |= {"unit", "plate-field", "plate-line", "goes-on-at", "goes-on-at-site", "help-reading", "help-reading-or"}


def phrases(library) -> set[str]:
    """What a technician may say, which is a value where it is said back: of closed lists, of the profiles, of parts."""
    job = (UNSAID, ALL_GOOD, *PLACES, *POINT, *FIELD_CHOICES)
    closed = (*job, *SUPPLIES, *REFRIGERANTS, *YES_NO, *NOTHING, *REPAIR_DONE, *components(library), PROFILE_UNKNOWN)
    found = {phrase for choice in (*closed, MEND_LIKELIEST, SEA_LEVEL) for phrase in choice.phrases}
    for profile in library.profiles.values():
        found |= set(profile.phrases)
        for group in (profile.zones, profile.indications):
            found |= {phrase for item in group for phrase in item.phrases}
    return found


@pytest.mark.parametrize("seed", [11, 14])
def test_no_value_is_a_sentence_of_the_code(seed: int):
    library = load()
    said = phrases(library) | {"by the old mill"}
    _, facts = walk(Knowledgeable(library), seed, turns=150)
    told = [fact.message for fact in facts if isinstance(fact, f.Said) and fact.message is not None]
    left = [message for fact in facts if isinstance(fact, f.VisitClosed) for message in fact.left]
    assert len(told) > 100
    for name, text in {pair for message in (*told, *left) for pair in texts(message)}:
        assert len(text.split()) < 4 or text in said or name in OF_PEOPLE, f"{name}: {text!r} is no name"


def texts(message: Message):
    for _, value in message.values:
        if isinstance(value, str):
            yield message.id, value
        elif isinstance(value, Message):
            yield from texts(value)
