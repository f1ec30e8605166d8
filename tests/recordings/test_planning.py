"""What the measuring set lets the voices say: usual, certain sentences of every kind, dealt out evenly."""

import random
from collections import Counter

import pytest

from assistant.errors import LaddersideError
from assistant.language.compare import same_meaning
from assistant.language.generate import Sentence
from assistant.language.interpret import interpret
from assistant.language.meaning import Finding, Reading, Readings
from recordings_synthetic import planning
from recordings_synthetic.planning import State, Usual, plan, states
from recordings_synthetic.voices import VOICES


@pytest.fixture
def two_kinds(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two of the kinds are enough here, and quick to draw from."""
    kinds = {kind: state for kind, state in states().items() if kind in ("filter", "yes-no")}
    monkeypatch.setattr(planning, "states", lambda: kinds)


def test_every_kind_of_the_file_is_a_state_with_a_topic() -> None:
    kinds = states()
    assert len(kinds) >= 18
    assert all(state.expects.topic for state in kinds.values())
    assert {"reading", "finding", "command", "correction"} <= {take for state in kinds.values() for take in state.takes}
    assert all(state.usual for state in kinds.values() if state.expects.reading)


@pytest.mark.usefixtures("two_kinds")
def test_a_plan_is_even_and_repeatable() -> None:
    made = plan(VOICES[:4], 16, seed=2)
    assert made == plan(VOICES[:4], 16, seed=2) != plan(VOICES[:4], 16, seed=3)
    assert set(Counter((each.voice.name, each.kind) for each in made).values()) == {2}
    assert all(isinstance(each.sentence.meaning, Finding) for each in made)


def test_readings_are_usual_certain_and_some_of_several_places() -> None:
    state = states()["windings"]
    made = list(planning.stock_of(state, 12, seed=2))
    assert len(made) == 12
    for sentence in made:
        told = interpret(sentence.words, state.expects)
        assert not told.doubt
        assert same_meaning(told.meaning, sentence.meaning)
        assert isinstance(sentence.meaning, Readings)
        for item in sentence.meaning.items:
            assert item.spoken_unit == "ohm"
            assert item.value is None or 0.2 <= item.value <= 60
    several = [each for each in made if isinstance(each.meaning, Readings) and len(each.meaning.items) > 1]
    assert len(several) >= 12 // planning.SEVERAL_SHARE


def test_joined_readings_name_each_place_once() -> None:
    singles = [
        Sentence(f"{words} {value} ohms", Readings(items=(reading(number, place),)), "reading")
        for place, words in (("u-v", "u to v"), ("v-w", "v to w"), ("w-u", "w to u"))
        for value, number in (("one point two", 1.2), ("one point nine", 1.9))
    ]
    made = planning.joined_readings(singles, states()["windings"], 8, random.Random(1))
    assert len(made) == 8
    for sentence in made:
        assert isinstance(sentence.meaning, Readings)
        places = [item.place for item in sentence.meaning.items]
        assert len(set(places)) == len(places) > 1
    assert planning.joined_readings(singles[:2], states()["windings"], 8, random.Random(1)) == []


def reading(value: float, place: str) -> Reading:
    return Reading(quantity="resistance", value=value, spoken_value=value, spoken_unit="ohm", place=place)


def test_a_state_that_gives_nothing_usual_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    windings = states()["windings"]
    impossible = State(expects=windings.expects, usual=Usual(units=("furlong",), least=0, most=1))
    monkeypatch.setattr(planning, "states", lambda: {"windings": impossible})
    monkeypatch.setattr(planning, "narrowed", lambda state: state.expects)
    monkeypatch.setattr(planning, "ROUNDS", 2)
    with pytest.raises(LaddersideError, match="too few usual sentences"):
        plan(VOICES[:1], 5, seed=1)
