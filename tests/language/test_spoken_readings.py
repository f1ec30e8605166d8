"""Readings with all that people say around them: ``spoken_readings.tsv``, and what must never be made of a number."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.dialogue.measuring import measured
from assistant.dialogue.scope import scope_at
from assistant.language.corpus import atoms_of
from assistant.language.meaning import Interpretation, Readings, Told
from assistant.language.understand import understand
from assistant.library.loader import Library, load


@pytest.fixture(scope="module")
def library() -> Library:
    return load()


def said(words: str, question: str, library: Library) -> Interpretation:
    scope = scope_at(question, library)
    assert scope is not None
    return understand(words, scope)


def test_readings_as_they_are_said(library: Library) -> None:
    tally = measured([Path(__file__).with_name("spoken_readings.tsv")], library, None)["reading"]
    assert tally.counts["wrong"] == 0, tally.missed
    assert tally.share("at once", "asked") > 0.97, [row.sentence for _, row, _ in tally.missed]
    assert tally.share("at once") > 0.92


@pytest.mark.parametrize(
    ("question", "words", "never"),
    [
        ("signal-volts.voltage", "ten to twenty eight volts", 10_228.0),
        ("indoor-fan-volts.supply", "three eighteen and four point two", 3184.2),
        ("supply-legs-earth.voltages", "one twenty one and three", 1213.0),
        ("eev-coil-ohms.windings", "forty six forty six forty six forty six", 46_464_646.0),
        ("pipe-sensor-resistance.resistance", "ten thousand two hundred", 10_200_000.0),
        ("supply-drop-panel.loaded", "low point two oh four volts", 0.204),
    ],
)
def test_no_number_is_made_of_two(question: str, words: str, never: float, library: Library) -> None:
    found = said(words, question, library)
    values = {value for atom in atoms_of(found.meaning, question) for value in atom.values}
    assert found.meaning is not None
    assert never not in values


@pytest.mark.parametrize(
    ("question", "words"),
    [
        ("running-current.current", "he owes me fifty"),
        ("supply-volts.voltage", "it should be two forty"),
        ("supply-volts.voltage", "not two forty"),
        ("room-sensor-resistance.resistance", "tuition's thirty one a year"),
        ("airflow-indoor-intake-air.intake", "my kid's got a game at seven"),
        ("bus-volts.voltage", "be about twenty minutes"),
    ],
)
def test_other_numbers_are_no_readings(question: str, words: str, library: Library) -> None:
    found = said(words, question, library)
    assert found.meaning is None or found.doubt


def test_two_answers_of_one_check_in_one_breath(library: Library) -> None:
    meaning = said("three eighteen and four point two", "indoor-fan-volts.supply", library).meaning
    assert isinstance(meaning, Told)
    assert isinstance(meaning.answer, Readings)
    assert meaning.answer.items[0].value == 318
    assert meaning.facts[0].question == "indoor-fan-volts.control"


def test_a_place_that_may_be_part_of_the_number_is_asked(library: Library) -> None:
    found = said("second one point five", "drain-pump-lead.wires", library)
    assert found.doubt


def test_a_point_that_was_said_once_is_asked_about_in_the_row_behind_it(library: Library) -> None:
    found = said("point four one, four two, four one", "module-diodes.upper", library)
    assert isinstance(found.meaning, Readings)
    assert [item.value for item in found.meaning.items] == [0.41, 0.42, 0.41]
    assert found.doubt
    whole = said("point four one, two, one", "module-diodes.upper", library)
    assert isinstance(whole.meaning, Readings)
    assert [item.value for item in whole.meaning.items] == [0.41, 2, 1]


def test_talk_in_a_clause_of_its_own_leaves_a_reading_as_it_is_unless_it_may_take_it_back(library: Library) -> None:
    assert not said("two forty, ghost stuff", "supply-volts.voltage", library).doubt
    assert said("two forty, wrong lug", "supply-volts.voltage", library).doubt
    assert said("hey grandma, two forty", "supply-volts.voltage", library).doubt
    assert said("two forty, tell her grandma paid", "supply-volts.voltage", library).meaning is None
    assert said("the ghost in two forty", "supply-volts.voltage", library).doubt


def test_two_digits_beside_a_point_may_have_one(library: Library) -> None:
    found = said("room's ten point one, pipe's nine eight", "indoor-sensors-sweep.resistances", library)
    assert isinstance(found.meaning, Readings)
    assert [item.spoken_value for item in found.meaning.items] == [10.1, 9.8]
    assert found.doubt
