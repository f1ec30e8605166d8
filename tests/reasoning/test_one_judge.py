"""The visit and `calculate` are asked the same question, in other units, and must give the same verdict.

Every shipped check with a judge of readings is answered with whatever its questions may hear; what its judge then asks
of the calculations is typed anew as text in a drawn unit, and the catalogue is asked.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager
from decimal import Decimal
from typing import Any
from unittest.mock import patch

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from assistant.calculations import bridge, catalogue, instruments, parts, units, values
from assistant.calculations.entry import WORD, Parameter, Value
from assistant.calculations.found import Found
from assistant.calculations.uncertainty import STANDS_CHANCE, Accuracy, Metered
from assistant.language.meaning import Finding, Reading, Readings
from assistant.language.units import to_canonical
from assistant.library.models import Check, Question
from assistant.reasoning.judges import dead, judge, names, sensors
from assistant.reasoning.judges import supply as supply_judge
from assistant.reasoning.judges.case import Answer
from assistant.reasoning.judges.values import accuracy_of
from tests.reasoning.asking import asked, library

#: A calculation's name, what the visit gave it, and what it found.
Asked = tuple[str, dict[str, Value], Found]
Named = dict[str, Value] | None
#: Judges of what was seen or told, where there is nothing to calculate.
WITHOUT_READINGS = {"finding"}
#: A check for a judge that no shipped check uses.
OTHERWISE = {
    "pull-down": asked(
        "pull-down",
        {"plugged": "voltage_dc", "unplugged": "voltage_dc"},
        meter="multimeter-dc",
        plausible=(0, 30),
    )
}
#: Instruments of the sums that no question of a visit is read with.
NOT_IN_VISITS = {"given", "wattmeter"}
PROFILES = (*library().profiles.values(), *library().generals.values())


def _like(readings: Sequence[Metered], *names: str) -> dict[str, Value]:
    return dict(zip(names, readings, strict=False))


def _value(value: Metered, low: float | None = None, high: float | None = None) -> tuple[str, Named]:
    return "judge", {"value": value, "low": low, "high": high}


def _at_least(value: Metered, low: float) -> tuple[str, Named]:
    return "judge-at-least", {"value": value, "low": low}


def _share(value: Metered, nominal: float, low: float | None, high: float | None) -> tuple[str, Named]:
    return "judge-share", {"value": value, "nominal": nominal, "low": low, "high": high}


def _alike(readings: Sequence[Metered], largest: float, in_percent: bool) -> tuple[str, Named]:
    by = "percent" if in_percent else "unit"
    return "alike", {**_like(readings, "first", "second", "third", "fourth"), "largest": largest, "by": by}


def _absent(readings: Sequence[Metered], below: float, in_series: bool) -> tuple[str, Named]:
    # Mains voltage is absent from each place alone; the catalogue knows the two halves of a bus, in series.
    alone = in_series and len(readings) <= 2
    return "bus-dead", {**_like(readings, "voltage", "second"), "dead_below": below} if alone else None


def _arms(forward: Mapping[str, Metered], rows: Any, spread_v: float, short_below_v: float) -> tuple[str, Named]:
    keys = {name: f"{'p' if name.startswith('drops') else 'n'}_{'uvw'[place]}" for row in rows[:2]
            for place, name in enumerate(row) if place < 3}  # fmt: skip
    limits: dict[str, Value] = {"alike": spread_v, "short_below": short_below_v}
    return "bridge-diodes", {**{keys[n]: r for n, r in forward.items()}, **limits} if len(keys) == 6 else None


def _continuity(readings: Mapping[str, Metered], high: float) -> tuple[str, Named]:
    return "continuity", {**_like([*readings.values()], "first", "second", "third", "fourth"), "high": high}


def _sweep(readings: Mapping[str, Metered], above: float, below: float) -> tuple[str, Named]:
    sensors_of_it = ("room", "pipe", "outdoor", "discharge", "suction")
    return "sensors-open-shorted", {**_like([*readings.values()], *sensors_of_it), "open_above": above,
                                    "short_below": below}  # fmt: skip


def _supply(volts: Mapping[str, Metered], system: str, low_v: Any, high_v: Any, unbalance_limit_percent: float
            ) -> tuple[str, Named]:  # fmt: skip
    if low_v is not None or high_v is not None:
        return "supply-band", None
    if len(volts) == 1:
        return "supply-band", {"voltage": next(iter(volts.values())), "system": system}
    legs = {place.replace("-", "_"): reading for place, reading in volts.items()}
    return "supply-three-phase", {**legs, "system": system, "limit": unbalance_limit_percent}


#: Where a judge asks a function and not the catalogue by name: the same question in the catalogue's words.
DIRECT: tuple[tuple[Any, str, Callable[..., tuple[str, Named]]], ...] = (
    (values, "judge_value", _value),
    (values, "judge_at_least", _at_least),
    (values, "judge_share", _share),
    (values, "judge_alike", _alike),
    (dead, "judge_absent", _absent),
    (bridge, "judge_arms", _arms),
    (parts, "judge_continuity", _continuity),
    (sensors, "judge_sweep", _sweep),
    (supply_judge, "judge_supply", _supply),
)


@contextmanager
def listening() -> Iterator[list[Asked]]:
    """What judgements are asked of the calculations meanwhile."""
    heard: list[Asked] = []
    inside = [0]

    def noted(ask: Callable[..., Any], note: Callable[..., None]) -> Callable[..., Any]:
        def asked(*args: Any, **named: Any) -> Any:
            inside[0] += 1
            try:
                answer = ask(*args, **named)
            finally:
                inside[0] -= 1
            if not inside[0]:  # what the catalogue asks of the functions is not asked by the visit
                note(answer, *args, **named)
            return answer

        return asked

    def by_name(answer: Any, name: str, given: Mapping[str, Value], known: Mapping[str, Value]) -> None:
        takes = {p.name for p in catalogue.find(name).parameters}
        if answer.found is not None:
            heard.append((name, {k: v for k, v in {**known, **given}.items() if k in takes}, answer.found))

    def direct(translated: Callable[..., tuple[str, Named]]) -> Callable[..., None]:
        def note(answer: Found, *args: Any, **named: Any) -> None:
            name, given = translated(*args, **named)
            if given is not None:
                heard.append((name, {k: v for k, v in given.items() if v is not None}, answer))

        return note

    with ExitStack() as stack:
        stack.enter_context(patch.object(catalogue, "run", noted(catalogue.run, by_name)))
        for module, name, translated in DIRECT:
            stack.enter_context(patch.object(module, name, noted(getattr(module, name), direct(translated))))
        yield heard


@st.composite
def answers(draw: st.DrawFn, check: Check) -> dict[str, Answer]:
    """Something heard for every question of a check."""
    return {question.key: draw(answer(question)) for question in check.ask if not question.text}


@st.composite
def answer(draw: st.DrawFn, question: Question) -> Answer:
    """A choice, or at each place a number the question takes: often about alike, at times an open line."""
    asked = question.reading
    if asked is None:
        return Finding(choice=draw(st.sampled_from([choice.id for choice in question.choices])))
    low, high = sorted(to_canonical(end, asked.unit, asked.quantity) for end in asked.plausible)
    number = st.floats(low, high) | st.floats(-5, 0).map(lambda power: low + (high - low) * 10**power)
    about = draw(number)
    items = []
    places: list[str | None] = [place.id for place in asked.places]
    for nth, place in enumerate(places or [None]):
        here = draw(st.floats(0.97, 1.03)) * about if draw(st.booleans()) else draw(number)
        here = min(max(here, low), high) * (1 - 1e-7 * nth)  # of two exactly alike, rounding would pick the worse
        is_open = asked.open_line and draw(st.integers(0, 9)) == 0
        items.append(
            Reading(
                quantity=asked.quantity,
                value=None if is_open else here,
                spoken_value=None,
                spoken_unit=asked.unit,
                special="open_line" if is_open else None,
                span=None,
                place=place,
            )
        )
    return Readings(items=tuple(items))


def typed(name: str, given: Mapping[str, Value], unit_of: Callable[[Sequence[str]], str]) -> Found:
    """The same asked of the catalogue as text, the instrument told too; kept where text cannot say what it can do."""
    parameters = {parameter.name: parameter for parameter in catalogue.find(name).parameters}
    meters = [value.accuracy for value in given.values() if isinstance(value, Metered)]
    told = {"meter_percent", "meter_offset"} <= {*parameters} and all(
        meter == meters[0] == Accuracy(meter.percent_of_reading, meter.offset) for meter in meters
    )
    everything = {**given}
    if told and meters:
        everything |= {"meter_percent": meters[0].percent_of_reading, "meter_offset": meters[0].offset}
    texts: dict[str, str] = {}
    kept: dict[str, Value] = {}
    for key, value in everything.items():
        if isinstance(value, Metered):
            if told or value.accuracy == instruments.usual(parameters[key].instrument):
                texts[key] = _text(parameters[key], value.value, unit_of)
            else:
                kept[key] = value
        elif isinstance(value, tuple):
            kept[key] = value
        else:
            texts[key] = _text(parameters[key], value, unit_of, key == "meter_offset")
    found = catalogue.run(name, {**catalogue.read(name, texts), **kept}).found
    assert found is not None
    return found


def _text(parameter: Parameter, value: Value, unit_of: Callable[[Sequence[str]], str], width: bool = False) -> str:
    if parameter.quantity == WORD:
        return str(value)
    assert isinstance(value, (int, float))
    if math.isinf(value):
        return "OL"
    # Inches of mercury under gauge pressure are a vacuum: written without a sign, and no unit for what is above it.
    ways = [u for u in units.units_of(parameter.written_as) if units.from_inside(parameter.written_as, 1e6, u) > 0]
    symbol = ways[0] if width else unit_of(ways)  # a width has no zero to move
    number = Decimal(repr(units.from_inside(parameter.written_as, float(value), symbol)))
    return f"{number:f}{'' if symbol == '1' else symbol}"


def same(visit: Found, other: Found) -> None:
    """One outcome and one verdict; where a chance is at the edge to within rounding, at least the same chances."""
    for outcome, chance in visit.chances.items():
        assert other.chances[outcome] == pytest.approx(chance, abs=0.01), (visit, other)
    first, second, *_ = (*sorted(visit.chances.values(), reverse=True), 0.0, 0.0)
    if first - second > 0.03 or visit.told:
        assert other.outcome == visit.outcome
        sure = sum(c for name, c in visit.chances.items() if (name in visit.good) == (visit.outcome in visit.good))
        if abs(sure - STANDS_CHANCE) > 0.03 and abs(1 - sure) > 1e-12:
            assert other.verdict == visit.verdict


@pytest.mark.parametrize("by", sorted(set(names()) - WITHOUT_READINGS))
def test_visit_and_catalogue_give_one_verdict(by: str) -> None:
    checks = [check for check in library().checks.values() if check.judge.by == by] or [OTHERWISE[by]]
    compared: list[str] = []

    @settings(max_examples=60, deadline=None, derandomize=True, database=None,
              suppress_health_check=list(HealthCheck))  # fmt: skip
    @given(st.data())
    def ask(data: st.DataObject) -> None:
        check = data.draw(st.sampled_from(checks))
        unit = data.draw(st.sampled_from(PROFILES))
        with listening() as heard:
            judgement = judge(check, data.draw(answers(check)), library(), unit, data.draw(st.floats(0, 2500)))
        for name, given_it, found in heard:
            again = typed(name, given_it, lambda ways: data.draw(st.sampled_from(list(ways))))
            same(found, again)
            compared.append(name)
        if len(heard) == 1 and not heard[0][2].unfit:
            told = check.outcomes[judgement.outcome].verdict
            assert judgement.verdict in (told, "undecided")

    ask()
    assert compared, f"nothing that the judge {by} asks was compared"


@pytest.mark.parametrize("name", sorted(set(instruments.USUAL) - NOT_IN_VISITS))
def test_an_instrument_can_do_the_same_in_visit_and_sum(name: str) -> None:
    known = library().instruments[name]
    assert instruments.usual(name) == accuracy_of(known, known.quantity)
