"""What is spoken is a technician's English: no word that nobody says on a ladder."""

import re
from pathlib import Path

import pytest

from assistant.library.loader import load
from assistant.messages.catalogue import knowledge_text
from assistant.messages.message import known

ROOT = Path(__file__).parents[2]
#: Said by nobody at work. "amiss" and "anew" are plain in a comment and odd in the ear.
STIFF = re.compile(
    r"\b(?:\w*soever|nought|naught|shall|shan't|whilst|amongst|hitherto|hereby|herein|thereof|thereby|therein|"
    r"whereby|wherein|aforesaid|henceforth|ought|amiss|betwixt|forthwith|lest)\b",
    re.IGNORECASE,
)


@pytest.mark.parametrize("path", sorted((ROOT / "grammars/messages/en").glob("*.ftl")), ids=lambda path: path.stem)
def test_no_stiff_word_in_the_messages(path):
    found = [
        f"{number}: {line}" for number, line in enumerate(path.read_text("utf-8").splitlines(), 1) if STIFF.search(line)
    ]
    assert not found, "say it plainly: " + "; ".join(found)


def spoken(library):
    """Every text of the knowledge that is spoken, with where it stands."""
    for check in library.checks.values():
        yield from (("checks", check.id, field) for field in ("title", "why", "probes"))
        yield from (("checks", check.id, f"ask.{question.key}.say") for question in check.ask)
        yield from (("checks", check.id, f"outcomes.{name}.means") for name in check.outcomes)
        yield from (("checks", check.id, f"outcomes.{name}.redo") for name in check.outcomes)
    yield from (("suspects", key, field) for key in library.suspects for field in ("name", "component", "repair.say"))
    yield from (("symptoms", key, "name") for key in library.symptoms)
    yield from (("precautions", key, field) for key in library.precautions for field in ("say", "again", "short"))
    yield from (("hazards", key, field) for key in library.hazards for field in ("name", "say", "first"))
    yield from (("things", key, field) for key in library.things for field in ("name", "say"))


def test_no_stiff_word_in_the_spoken_knowledge():
    library = load()
    texts = [(place, knowledge_text(library, known(*place))) for place in spoken(library)]
    assert len(texts) > 1500
    found = [f"{'.'.join(place)}: {text}" for place, text in texts if STIFF.search(text)]
    assert not found, "say it plainly: " + "; ".join(found)


def test_the_lint_sees_stiff_words():
    assert all(STIFF.search(text) for text in ("Whatsoever it is.", "Nought.", "You shall wait.", "Whilst it runs."))
    assert not any(STIFF.search(text) for text in ("It bought time.", "A shallow pan.", "The least of it."))
