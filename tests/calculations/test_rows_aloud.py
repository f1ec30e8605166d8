"""The outside values of ``tests/reference`` asked aloud: the sentence is understood, and the answer's words are theirs.

Each row that a sum asked aloud can put is said as a technician says it, read by the language layer, worked out by the
dialogue, and what the voice would say is heard back as a number.
"""

from __future__ import annotations

from collections.abc import Iterator
from types import SimpleNamespace
from typing import Any

import pytest

from assistant.calculations import catalogue, units
from assistant.calculations.entry import WORD
from assistant.dialogue import asked_sums
from assistant.language import numbers, sums
from assistant.language import units as said_units
from assistant.language.interpret import interpret
from assistant.language.number_words import say_digits, say_pair
from assistant.messages.catalogue import catalogue as messages
from assistant.messages.message import message
from assistant.quantities.table import QUANTITIES
from assistant.speaking.text import spoken
from tests.calculations.checks import Row, rows
from tests.calculations.test_references import tolerance_of
from tests.language.states import STATES

#: What the site tells, so that it need not be said.
OF_THE_SITE = {"refrigerant", "system"}
#: In a sum fewer units may be said than beside a reading (``grammars/calculations.jsgf``); others are put into these.
SAID_INSTEAD = {"Pa": "micron", "mmHg": "micron", "BTU/h": "W", "s": "min", "oz": "lb", "mohm": "ohm"}


def sayable(row: Row) -> bool:
    """Whether a sum asked aloud can put the row, and its first answer, which is told, is the row's."""
    asked = sums.known().get(row.calculation)
    if asked is None or catalogue.find(row.calculation).outputs[0].name != row.output:
        return False
    return all(asked.parameter(name) is not None for name in row.pairs if name not in OF_THE_SITE)


def sentence(row: Row) -> str:
    """ "calculate superheat, suction one hundred eighteen psi, line fifty two degrees fahrenheit"."""
    asked = sums.known()[row.calculation]
    parts = [f"calculate {asked.phrases[0]}"]
    for name, text in row.pairs.items():
        if name in OF_THE_SITE:
            continue
        parameter = asked.parameter(name)
        assert parameter is not None
        kind = catalogue.find(row.calculation).parameter(name)
        assert kind is not None
        value, symbol = units.read(kind.written_as, text)
        symbol = SAID_INSTEAD.get(symbol, symbol)
        number = units.from_inside(kind.written_as, value, symbol)
        unit = "" if symbol == "1" else said_units.say(symbol, parameter.quantity, number)
        parts.append(f"{parameter.phrases[0]} {in_words(number)} {unit}".strip())
    return ", ".join(parts)


def in_words(number: float) -> str:
    """A number as people say it: "minus four", "one hundred eighteen point five", "ninety five oh four"."""
    whole, _, rest = f"{abs(number):.6f}".rstrip("0").partition(".")
    said = say_digits(whole) if len(whole) > 3 else _hundreds(int(whole))
    return ("minus " if number < 0 else "") + said + (f" point {say_digits(rest)}" if rest else "")


def _hundreds(value: int) -> str:
    """One to three digits: "two oh eight", "three hundred", "one eighteen"."""
    high, low = divmod(value, 100)
    if not high:
        return say_pair(value)
    if not low:
        return f"{say_pair(high)} hundred"
    return f"{say_pair(high)} {'oh ' if low < 10 else ''}{say_pair(low)}"


def answered(said: str) -> float:
    """The first number in what the voice says after "equals"; said twice, the second time as one word."""
    for part in said.partition(" equals ")[2].rstrip(".").split(", "):
        words = part.split()
        found = next((n for n in range(len(words), 0, -1) if numbers.parse(words[:n]) is not None), 0)
        if found < len(words) or ", " not in said:
            value = numbers.parse(words[:found])
            assert value is not None, said
            return float(value.value)
    value = numbers.parse(said.partition(" equals ")[2].rstrip(".").split(", ")[-1])
    assert value is not None, said
    return float(value.value)


class Turn:
    """As much of a turn as a sum needs."""

    def __init__(self, row: Row) -> None:
        told = {"refrigerant": "R410A", "system": "single-phase-230"} | row.pairs
        refrigerant, supply = SimpleNamespace(name=told["refrigerant"]), SimpleNamespace(system=told["system"])
        self.profile = SimpleNamespace(refrigerant=refrigerant, supply=supply, general=True)
        self.altitude_m = 0.0
        self.emitted: list[Any] = []
        self.told: list[tuple[str, dict[str, Any]]] = []

    def emit(self, fact: Any) -> None:
        self.emitted.append(fact)

    def tell(self, what: str, kind: str, /, **values: Any) -> None:
        self.told.append((what, values))


def tried() -> Iterator[Any]:
    for row in rows():
        if sayable(row):
            yield pytest.param(row, id=f"{row.file}:{row.line}")


CASES = list(tried())


def test_the_rows_of_many_sums_are_asked_aloud() -> None:
    assert len(CASES) > 90
    assert len({case.values[0].calculation for case in CASES}) >= 15


@pytest.mark.parametrize("row", CASES)
def test_a_row_is_answered_aloud(row: Row, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(asked_sums, "ask_again", lambda turn: None)
    said = sentence(row)
    meaning = interpret(said, STATES["bus"]).meaning
    assert meaning is not None, said
    assert meaning.kind == "calculation", said
    turn = Turn(row)
    asked_sums.calculate(turn, meaning)  # type: ignore[arg-type]
    name, values = turn.told[0]
    assert name == "sum", (said, turn.told)
    told = spoken(messages().words(message("sum", **values), None))
    kind = catalogue.find(row.calculation).outputs[0].quantity
    if kind == WORD:
        assert told.rstrip(".").endswith(f"equals {row.expected}"), (said, told)
        return
    expected = units.parse(kind, row.expected)
    value = answered(told)
    size = units.from_inside(kind, expected, symbol_told(kind, expected))
    slack = abs(
        units.from_inside(kind, expected + tolerance_of(row, kind, expected), symbol_told(kind, expected)) - size
    )
    rounding = 0.0006 * abs(value) + 0.06 * (kind in ("temperature", "temperature_difference"))
    assert abs(value - size) <= slack + rounding, (said, told)


def symbol_told(kind: str, value: float) -> str:
    """The unit in which a value is told first."""
    prefixed = QUANTITIES[kind].prefixed
    return next((s for s in prefixed if abs(value) >= QUANTITIES[kind].unit(s).factor), units.QUANTITIES[kind])


def test_what_cannot_be_is_told_in_one_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(asked_sums, "ask_again", lambda turn: None)
    meaning = interpret("superheat suction 5000 psi line 50", STATES["bus"]).meaning
    turn = Turn(next(row for row in rows() if row.calculation == "superheat"))
    asked_sums.calculate(turn, meaning)  # type: ignore[arg-type]
    ((name, values),) = turn.told
    assert name == "sum-refused"
    assert values["why"].endswith("kPa.")
    assert ". " not in values["why"]
