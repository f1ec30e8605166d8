"""What ``ladderside words`` prints is what is understood."""

from __future__ import annotations

import json

import pytest

from assistant.commands.main import main
from assistant.dialogue.sayable import pages
from assistant.dialogue.scope import scope_at
from assistant.language.keys import anytime
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
