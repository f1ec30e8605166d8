"""What ``ladderside words`` prints is what is understood."""

from __future__ import annotations

import json
from typing import get_args

import pytest

from assistant.commands.main import main
from assistant.dialogue.sayable import NOTES, READINGS, pages
from assistant.dialogue.scope import scope_at
from assistant.language.keys import anytime
from assistant.language.meaning import Calculation, Correction, LedgerSaid, Meaning, Readings
from assistant.language.understand import understand
from assistant.library.loader import load


def test_every_request_and_everything_said_at_any_time_is_understood() -> None:
    library = load()
    scope = scope_at("any", library)
    assert scope is not None
    found = {page.subject: page for page in pages(library)}
    for subject in ("requests", "at any time"):
        for line in found[subject].lines:
            for words in line.say:
                assert understand(words, scope).meaning is not None, (subject, words)


def understood(words: str, state: str) -> Meaning | None:
    scope = scope_at(state, load())
    assert scope is not None
    return understand(words, scope).meaning


def test_readings_notes_and_sums_are_understood_as_what_their_page_says() -> None:
    for line in READINGS:
        for words in line.say:
            meaning = understood(words, "supply-volts.voltage")
            meant = meaning.meaning if isinstance(meaning, Correction) else meaning
            assert isinstance(meant, Readings), words
    for line in NOTES:
        for words in line.say:
            assert isinstance(understood(words, "supply-volts.voltage"), LedgerSaid), words
    found = {page.subject: page for page in pages(load())}
    for line in found["sums"].lines:
        words = line.say[0].replace("...", "four point two").replace("calculate ", "calculate the ", 1)
        assert isinstance(understood(words, "any"), Calculation), words


def test_every_kind_of_meaning_has_a_page() -> None:
    """What the grammar can mean at all, so that no kind of sentence is missing from the printed words."""
    pages_of = {
        "command": "requests",
        "correction": "requests",
        "emergency": "at any time",
        "cannot": "at any time",
        "back-question": "at any time",
        "ledger": "notes and amounts",
        "calculation": "sums",
        "readings": "readings",
        "finding": "supply",
        "indication": "what the unit does",
        "text": "commissioning",
        "told": "what the unit does",
    }
    kinds = {get_args(one.model_fields["kind"].annotation)[0] for one in get_args(get_args(Meaning)[0])}
    assert kinds == set(pages_of)
    assert {page.subject for page in pages(load())} >= set(pages_of.values())


def test_no_subject_is_left_out() -> None:
    library = load()
    found = pages(library)
    assert {page.subject for page in found} >= {system.replace("-", " ") for system in library.systems}
    told = {line.what.replace(" ", "-") for page in found[:2] for line in page.lines}
    assert {key.partition(":")[2] for key in anytime() if ":" in key} - {"check"} <= told
    questions = {line.what for page in found for line in page.lines}
    assert all(question.say in questions for check in library.checks.values() for question in check.ask)


def test_one_page_is_printed_by_its_subject(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["words", "sensors"]) == 0
    assert capsys.readouterr().out.startswith("SENSORS")
    assert main(["words", "--json", "requests"]) == 0
    assert json.loads(capsys.readouterr().out)[0]["subject"] == "requests"


def test_a_subject_that_is_not_there_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["words", "weather"]) == 2
    assert "There is no page" in capsys.readouterr().err
