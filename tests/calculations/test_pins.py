"""Every range, default, answer and threshold is where it was decided to be: see ``pins``."""

from __future__ import annotations

from collections import defaultdict

import pytest

from assistant.calculations import catalogue
from assistant.calculations.entry import Value
from tests.calculations import pins

NAMES = list(catalogue.CATALOGUE)


def _of(table: str) -> dict[str, list[dict[str, str]]]:
    found = defaultdict(list)
    for row in pins.table(table):
        found[row["calculation"]].append(row)
    return found


RANGES, ANSWERS, TURNS = _of("ranges"), _of("answers"), _of("turns")
ANEW = "if this was meant, python -m tests.calculations.pins writes it anew"


def test_the_defaults_are_those_decided() -> None:
    now = [row for calculation in catalogue.CATALOGUE.values() for row in pins.defaults(calculation)]
    assert [tuple(row.values()) for row in pins.table("defaults")] == now, ANEW


@pytest.mark.parametrize("name", RANGES)
def test_each_input_is_taken_up_to_its_limits_and_not_beyond(name: str) -> None:
    calculation = catalogue.find(name)
    for row in RANGES[name]:
        assert all(pins.is_limit(calculation, row["input"], float(row["low"]), float(row["high"]))), row


@pytest.mark.parametrize("name", NAMES)
def test_it_answers_as_it_did(name: str) -> None:
    calculation = catalogue.find(name)
    kept = {row["changed"]: row["answers"] for row in ANSWERS[name]}
    asked = dict(pins.changed(calculation))
    assert kept.keys() == asked.keys(), ANEW
    for what, values in asked.items():
        assert pins.answer(calculation, what, values) == kept[what], f"{name} {what}: {ANEW}"


@pytest.mark.parametrize("name", TURNS)
def test_each_verdict_turns_where_it_did(name: str) -> None:
    """A row just either side of every threshold."""
    calculation = catalogue.find(name)
    situations = dict(pins.worded(calculation))
    for row in TURNS[name]:
        values = situations[row["changed"]]

        def at(number: float, row: dict[str, str] = row, values: dict[str, Value] = values) -> str:
            return pins.outcome(calculation, {**values, row["input"]: number})

        assert pins.beside(at, float(row["at"])) == (row["below"], row["above"]), row


def test_every_judgement_turns_somewhere() -> None:
    judging = {name for name, calculation in catalogue.CATALOGUE.items() if calculation.judges}
    assert judging - TURNS.keys() == set()
