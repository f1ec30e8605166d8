"""Sums asked aloud."""

from __future__ import annotations

import pytest

from assistant.language.interpret import interpret
from assistant.language.sums import known
from tests.language.states import STATES
from tests.language.telling import told

PSI = 6.894757293168361


@pytest.mark.parametrize("name", ["bus", "yes-no", "shown", "windings"])
@pytest.mark.parametrize(
    "words",
    [
        "superheat, suction one twenty three, line fifty two",
        "Superheat: suction 123, line 52.",
        "calculate the superheat with suction 123 psi and line 52 degrees fahrenheit",
        "what is the super heat line 52 suction pressure 123",
    ],
)
def test_superheat_in_any_state(name: str, words: str) -> None:
    meaning = interpret(words, STATES[name]).meaning
    assert meaning is not None
    assert meaning.kind == "calculation"
    assert meaning.name == "superheat"
    values = {key: reading.value for key, reading in meaning.values}
    assert values == {"suction": pytest.approx(123 * PSI), "line": pytest.approx((52 - 32) / 1.8)}


def test_a_sum_without_values_needs_to_be_asked_for() -> None:
    assert told(interpret("calculate superheat", STATES["bus"]).meaning) == "sum superheat "
    assert interpret("superheat", STATES["bus"]).meaning is None


@pytest.mark.parametrize(
    "words", ["superheat liquid 340", "superheat line 52 volts", "superheat line 52 line 53", "superheat line"]
)
def test_values_that_do_not_belong_are_not_taken(words: str) -> None:
    assert interpret(words, STATES["bus"]).meaning is None


def test_free_words_are_no_sum() -> None:
    meaning = interpret("superheat suction 123 line 52", STATES["note"]).meaning
    assert meaning is not None
    assert meaning.kind == "text"


def test_every_spoken_calculation_can_be_asked_with_each_of_its_values() -> None:
    assert {"superheat", "subcooling", "target-superheat"} <= set(known())
    for one in known().values():
        for name in one.phrases:
            for taken in one.parameters:
                meaning = interpret(f"calculate {name} {taken.phrases[0]} four point two", STATES["bus"]).meaning
                assert meaning is not None, (name, taken.phrases)
                assert meaning.kind == "calculation"
                assert [key for key, _ in meaning.values] == [taken.name], (name, taken.phrases)


def test_a_sum_takes_thousands_and_the_units_of_air_and_vacuum() -> None:
    cop = interpret("cop with capacity twelve thousand btu and power nine hundred watts", STATES["bus"]).meaning
    assert told(cop).startswith("sum cop")
    values = {key: (reading.spoken_value, reading.spoken_unit) for key, reading in getattr(cop, "values", ())}
    assert values == {"capacity": (12_000, "BTU/h"), "power": (900, "W")}
    deep = interpret("water boils with vacuum six hundred pascals", STATES["bus"]).meaning
    assert [reading.value for _, reading in getattr(deep, "values", ())] == [600]
