"""What is spoken must fit into eight seconds, and no phrase may mean two things."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from assistant.data.yaml_lines import Path_
from assistant.language.meaning import Expectation
from assistant.language.state import clashes
from assistant.library.finding import Finding
from assistant.library.loader import Library
from assistant.speaking.text import seconds

#: One reply (design, promise 3).
LONGEST_SECONDS = 8.0
LONGEST_SENTENCE = 25
#: Instruction, probes, expected value and question in one hearing; "explain" gives more (issue 19, few words).
MOST_TO_QUESTION = 30

Text = tuple[str, str, Path_, str]  # kind, id, path, the words


def too_long(library: Library) -> Iterator[Finding]:
    """Texts longer than a reply may be, and sentences nobody can follow by ear."""
    for kind, item_id, path, words in _spoken(library):
        took = seconds(words)
        if took > LONGEST_SECONDS:
            yield Finding(kind, item_id, f"“{words}” takes {took:.1f} s to say", "say it in under 8 seconds", path)
        most = max((len(sentence.split()) for sentence in re.split(r"[.?!]\s", words)), default=0)
        if most > LONGEST_SENTENCE:
            yield Finding(kind, item_id, f"a sentence has {most} words", "keep it to 25 words", path)

    for check in library.checks.values():
        said = len(f"{check.probes} {check.ask[0].say if check.ask else ''}".split())
        if said > MOST_TO_QUESTION:
            what = f"{said} words to the end of its first question"
            yield Finding("check", check.id, what, f"keep it to {MOST_TO_QUESTION}", ("probes",))


def _spoken(library: Library) -> Iterator[Text]:
    for precaution in library.precautions.values():
        for field in ("say", "again", "short"):
            yield "precaution", precaution.id, (field,), getattr(precaution, field)
    for hazard in library.hazards.values():
        for field in ("name", "say", "first"):
            yield "hazard", hazard.id, (field,), getattr(hazard, field)
    for thing in library.things.values():
        yield "thing", thing.id, ("say",), thing.say
    for check in library.checks.values():
        for field in ("title", "why", "probes"):
            yield "check", check.id, (field,), getattr(check, field)
        for place, question in enumerate(check.ask):
            yield "check", check.id, ("ask", place, "say"), question.say
        for key, outcome in check.outcomes.items():
            yield "check", check.id, ("outcomes", key), outcome.means
            yield "check", check.id, ("outcomes", key, "redo"), outcome.redo
    for suspect in library.suspects.values():
        yield "suspect", suspect.id, ("name",), suspect.name
        yield "suspect", suspect.id, ("repair", "say"), suspect.repair.say
    for symptom in library.symptoms.values():
        yield "symptom", symptom.id, ("name",), symptom.name
    for profile in library.profiles.values():
        for place, shown in enumerate(profile.indications):
            for field in ("shown", "meaning", "note"):
                yield "profile", profile.id, ("indications", place, field), getattr(shown, field)


def shared_phrases(library: Library) -> Iterator[Finding]:
    """Phrases that two checks, two symptoms, two answers or two indications share."""
    checks = [(item.id, item.phrases) for item in library.checks.values()]
    yield from _shared("check", checks, "check")
    symptoms = [(item.id, item.phrases) for item in library.symptoms.values()]
    yield from _shared("symptom", symptoms, "symptom")
    yield from _checks_against_components(library)
    for check in library.checks.values():
        for place, question in enumerate(check.ask):
            choices = question.choices or (question.reading.places if question.reading else ())
            # The language knows which words its commands take, and how a phrase sounds.
            for clash in clashes(Expectation(question=f"{check.id}.{question.key}", choices=choices)):
                yield Finding("check", check.id, clash.what.rstrip("."), clash.remedy.rstrip("."), ("ask", place))
    for profile in library.profiles.values():
        shown = [(str(place), item.phrases) for place, item in enumerate(profile.indications)]
        for first, second, phrase in _clashes(shown):
            what = f"“{phrase}” means two indications ({int(first) + 1} and {int(second) + 1})"
            yield Finding("profile", profile.id, what, "give each its own words", ("indications", int(second)))


def _shared(kind: str, items: Iterable[tuple[str, Iterable[str]]], name: str) -> Iterator[Finding]:
    for first, second, phrase in _clashes(items):
        what = f"phrase “{phrase}” also names the {name} “{first}”"
        yield Finding(kind, second, what, "give one of them other words", ("phrases",))


def _checks_against_components(library: Library) -> Iterator[Finding]:
    """A phrase may name a check and a component only if that check is about that component."""
    owner = {_plain(phrase): check for check in library.checks.values() for phrase in check.phrases}
    for suspect in library.suspects.values():
        for phrase in suspect.phrases:
            check = owner.get(_plain(phrase))
            if check is not None and suspect.id not in check.tells:
                what = f"phrase “{phrase}” also names the check “{check.id}”, which does not tell of it"
                yield Finding("suspect", suspect.id, what, "give one of them other words", ("phrases",))


def _clashes(items: Iterable[tuple[str, Iterable[str]]]) -> Iterator[tuple[str, str, str]]:
    seen: dict[str, str] = {}
    for item_id, phrases in items:
        for phrase in phrases:
            first = seen.setdefault(_plain(phrase), item_id)
            if first != item_id:
                yield first, item_id, phrase


def _plain(phrase: str) -> str:
    """As it sounds: no case, no punctuation, no article."""
    words = re.sub(r"[^\w\s]", " ", phrase.lower()).split()
    return " ".join(word for word in words if word not in ("the", "a", "an"))
