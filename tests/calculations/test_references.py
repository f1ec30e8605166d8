"""Every row of ``tests/reference`` against the calculation it names."""

from __future__ import annotations

import pytest

from assistant.calculations import catalogue, units
from assistant.calculations.entry import WORD, Answer
from tests.calculations.checks import KINDS, OUTSIDE, Row, row_params, rows


def tolerance_of(row: Row, quantity: str, expected: float) -> float:
    if row.tolerance.endswith("%") and quantity not in ("percent", "humidity"):
        return abs(expected) * float(row.tolerance[:-1]) / 100
    if row.tolerance.endswith("%of"):
        return abs(expected) * float(row.tolerance[:-3]) / 100
    return units.parse("temperature_difference" if quantity == "temperature" else quantity, row.tolerance)


@pytest.mark.parametrize("row", row_params())
def test_row(row: Row) -> None:
    values = catalogue.read(row.calculation, row.pairs)
    result = catalogue.run(row.calculation, values)
    answer = next((a for a in result.answers if a.name == row.output), None)
    if answer is None:
        parameter = catalogue.find(row.calculation).parameter(row.output)
        assert parameter is not None
        assert row.output not in values, "a default cannot be given"
        answer = Answer(parameter.name, parameter.about, parameter.quantity, parameter.default)
    if answer.quantity == "word":
        assert answer.value == row.expected, row.source
        return
    assert isinstance(answer.value, float)
    expected = units.parse(answer.quantity, row.expected)
    assert abs(answer.value - expected) <= tolerance_of(row, answer.quantity, expected), (
        f"{answer.text} against {row.expected} ± {row.tolerance}: {row.source}"
    )


def test_every_row_says_where_it_is_from() -> None:
    for row in rows():
        assert row.calculation in catalogue.CATALOGUE, row
        assert row.kind in KINDS, row
        assert len(row.source) > 8, row
        assert row.kind != "memory" or "from memory" in row.source, row


def test_the_authors_own_words_are_not_counted() -> None:
    """A verdict that the author worked out from a published limit is no outside check of the verdict."""
    for row in rows():
        outputs = {o.name: o for o in catalogue.find(row.calculation).outputs}
        if row.output in outputs and outputs[row.output].quantity == WORD:
            assert row.kind not in OUTSIDE, row
