"""Uncertainty and units in the catalogue."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from assistant.calculations import uncertainty, units, values
from assistant.calculations.entries.common import OUTCOME, THERMOMETER, judged_outputs, read_by
from assistant.calculations.entry import Calculation, Output, Parameter, quantity, word
from assistant.calculations.found import Found
from assistant.calculations.sampling import SAMPLING_SOURCE
from assistant.calculations.uncertainty import Metered

_SHARES = (
    Output("below", "percent", "chance below"),
    Output("inside", "percent", "chance inside"),
    Output("above", "percent", "chance above"),
)
_GIVEN = (
    quantity("meter_percent", "percent", "accuracy, percent of reading", 0.0),
    quantity("meter_offset", "count", "accuracy, fixed part", 0.0),
)


def _reading(name: str, about: str, optional: bool = False) -> Parameter:
    return quantity(name, "count", about, optional=optional, open_line=True, instrument="given", accuracy="meter")


def _judge(value: Metered, low: float | None, high: float | None, **_: float) -> Found:
    found = values.judge_value(value, low, high)
    chances = found.against
    shares = (chances.chance_below, chances.chance_inside, chances.chance_above) if chances else (0.0, 0.0, 0.0)
    return replace(found, values={n: 100 * s for n, s in zip(("below", "inside", "above"), shares, strict=True)})


def _alike(largest: float, by: str, **v: Any) -> Found:
    readings = [v[name] for name in _LIKE if isinstance(v[name], Metered)]
    return values.judge_alike(readings, largest, by == "percent")


_LIKE = ("first", "second", "third", "fourth")


ENTRIES = (
    Calculation(
        "judge",
        "uncertainty",
        "a value against limits with the instrument's accuracy",
        (
            _reading("value", "value"),
            quantity("low", "count", "lowest allowed", optional=True),
            quantity("high", "count", "highest allowed", optional=True),
            *_GIVEN,
        ),
        (Output("verdict", "word", "verdict"), OUTCOME, *judged_outputs("count")[1:], *_SHARES),
        "pass: inside with 97.5 %; fail: beyond one limit with 97.5 %; else undecided",
        "{low} ≤ {value} ≤ {high}",
        f"{uncertainty.GUM}; {uncertainty.CONFORMITY}",
        _judge,
        judges=True,
    ),
    Calculation(
        "judge-at-least",
        "uncertainty",
        "a value that must be there and reach a limit",
        (_reading("value", "value"), quantity("low", "count", "lowest allowed"), *_GIVEN),
        (Output("verdict", "word", "verdict"), OUTCOME, *judged_outputs("count")[1:]),
        "V ≥ low; under a tenth of it nothing is there",
        "{value} ≥ {low}",
        f"{uncertainty.GUM}; {uncertainty.CONFORMITY}",
        lambda value, low, **_: values.judge_at_least(value, low),
        judges=True,
    ),
    Calculation(
        "judge-share",
        "uncertainty",
        "a value in percent of what it should be",
        (
            _reading("value", "value")._replace(open_line=False),
            quantity("nominal", "count", "what it should be"),
            quantity("low", "percent", "lowest share", optional=True),
            quantity("high", "percent", "highest share", optional=True),
            *_GIVEN,
        ),
        (
            Output("verdict", "word", "verdict"),
            OUTCOME,
            Output("share", "percent", "share"),
            *judged_outputs("percent")[1:],
        ),
        "100·value/nominal",
        "100·{value}/{nominal}",
        f"{uncertainty.GUM}; {uncertainty.CONFORMITY}",
        lambda value, nominal, low, high, **_: values.judge_share(value, nominal, low, high),
        judges=True,
    ),
    Calculation(
        "alike",
        "uncertainty",
        "like readings compared",
        (
            *(_reading(name, name, optional=name not in ("first", "second")) for name in _LIKE),
            quantity("largest", "count", "largest difference"),
            word("by", "counted in", ("percent", "unit"), "percent"),
            *_GIVEN,
        ),
        (
            Output("outcome", "word", "readings"),
            Output("spread", "count", "largest difference found"),
            *judged_outputs("count"),
        ),
        "largest - smallest, in percent of the mean",
        "limit {largest} {by}",
        f"{values.ALIKE_SOURCE}; {SAMPLING_SOURCE}",
        _alike,
        judges=True,
    ),
    Calculation(
        "temperature-difference",
        "uncertainty",
        "the difference of two temperatures judged",
        (
            read_by(quantity("first", "temperature", "first", said_in="degF"), "contact-thermometer", "thermometer"),
            read_by(quantity("second", "temperature", "second", said_in="degF"), "contact-thermometer", "thermometer"),
            quantity("low", "temperature_difference", "lowest allowed", optional=True, said_in="degF"),
            quantity("high", "temperature_difference", "highest allowed", optional=True, said_in="degF"),
            word("expects", "counted", ("either", "second-lower", "second-higher"), "either"),
            THERMOMETER,
        ),
        (
            Output("difference", "temperature_difference", "difference"),
            OUTCOME,
            *judged_outputs("temperature_difference"),
        ),
        "|t1 - t2|, or with its sign where one must be the lower",
        "{first}, {second}, {low} to {high}",
        "one thermometer reads both, so that what its readings share cancels (GUM F.1.2.3)",
        lambda first, second, low, high, expects, **_: values.judge_difference(first, second, low, high, expects),
        judges=True,
    ),
    Calculation(
        "standard-uncertainty",
        "uncertainty",
        "standard uncertainty from a half-width",
        (
            quantity("half_width", "count", "half-width"),
            word("shape", "distribution", ("rectangular", "triangular", "normal95"), "rectangular"),
        ),
        (Output("standard", "count", "standard uncertainty"),),
        "a/√3 rectangular, a/√6 triangular, a/1.96 normal 95 %",
        "{half_width}, {shape}",
        f"{uncertainty.GUM} 4.3",
        lambda half_width, shape: {"standard": uncertainty.standard_from_limits(half_width, shape)},
    ),
    Calculation(
        "combined-uncertainty",
        "uncertainty",
        "independent uncertainties combined",
        (
            quantity("first", "count", "first"),
            quantity("second", "count", "second"),
            quantity("third", "count", "third", 0.0),
        ),
        (Output("combined", "count", "combined"),),
        "√(u1² + u2² + u3²)",
        "√({first}² + {second}² + {third}²)",
        f"{uncertainty.GUM} 5.1.2",
        lambda first, second, third: {"combined": uncertainty.combined((first, second, third))},
    ),
    Calculation(
        "convert",
        "units",
        "a value in another unit",
        (
            quantity("value", "count", "value"),
            word("quantity", "quantity", tuple(units.QUANTITIES)),
            word("unit", "unit", ()),
            word("to", "wanted unit", ()),
        ),
        (Output("converted", "count", "value"), Output("in_unit", "word", "in")),
        "value·factor + offset",
        "{value} {unit} in {to}",
        "NIST SP 811 (2008), appendix B",
        lambda value, quantity, unit, to: {"converted": units.convert(quantity, value, unit, to), "in_unit": to},
    ),
)
