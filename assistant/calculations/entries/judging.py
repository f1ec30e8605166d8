"""Uncertainty and units in the catalogue."""

from __future__ import annotations

from assistant.calculations import uncertainty, units
from assistant.calculations.entries.common import accuracy, judged_outputs, judged_values
from assistant.calculations.entry import Calculation, Output, Value, quantity, word


def _judge(**v: float) -> dict[str, Value]:
    found = uncertainty.judged(v["value"], accuracy(v).expanded(v["value"]), v["low"], v["high"])
    return {
        **judged_values(found, ""),
        "below": 100 * found.chance_below,
        "inside": 100 * found.chance_inside,
        "above": 100 * found.chance_above,
    }


ENTRIES = (
    Calculation(
        "judge",
        "uncertainty",
        "a value against limits with the instrument's accuracy",
        (
            quantity("value", "count", "value"),
            quantity("low", "count", "lowest allowed", optional=True),
            quantity("high", "count", "highest allowed", optional=True),
            quantity("meter_percent", "percent", "accuracy, percent of reading", 0.0),
            quantity("meter_offset", "count", "accuracy, fixed part", 0.0),
        ),
        (
            *judged_outputs("count"),
            Output("below", "percent", "chance below"),
            Output("inside", "percent", "chance inside"),
            Output("above", "percent", "chance above"),
        ),
        "pass: all of x ± U inside; fail: all outside; else undecided",
        "{low} ≤ {value} ± {uncertainty} ≤ {high}",
        f"{uncertainty.GUM}; {uncertainty.CONFORMITY}",
        _judge,
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
