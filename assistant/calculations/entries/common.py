"""Parameters and outputs that many entries share."""

from __future__ import annotations

from assistant.calculations.entry import Output, Parameter, Value, quantity, word
from assistant.calculations.refrigerants import REFRIGERANTS
from assistant.calculations.uncertainty import Accuracy, Judged, better_reading

#: Accuracy of the usual service instruments where none is given (95 %): common practice, no source.
THERMOMETER = quantity("thermometer", "temperature_difference", "thermometer accuracy", 1.0)
ALTITUDE = quantity("altitude", "length", "altitude of the site", 0.0, said_in="ft")
REFRIGERANT = word("refrigerant", "refrigerant", tuple(REFRIGERANTS))
GAUGE = (
    quantity("gauge_percent", "percent", "gauge accuracy, percent of reading", 1.0),
    quantity("gauge_offset", "pressure_gauge", "gauge accuracy, fixed part", 3.5),
)


def meter(percent: float, offset: float, kind: str) -> tuple[Parameter, Parameter]:
    """The two parts of a meter's accuracy, with the usual values of a service meter."""
    return (
        quantity("meter_percent", "percent", "meter accuracy, percent of reading", percent),
        quantity("meter_offset", kind, "meter accuracy, fixed part", offset),
    )


def accuracy(values: dict[str, float], prefix: str = "meter") -> Accuracy:
    """The accuracy from a calculation's values."""
    return Accuracy(values[f"{prefix}_percent"], values[f"{prefix}_offset"])


def judged_outputs(kind: str) -> tuple[Output, ...]:
    """What every judgement of a value against limits gives beside its own."""
    return (
        Output("verdict", "word", "verdict"),
        Output("margin", kind, "distance to the nearest limit"),
        Output("uncertainty", kind, "uncertainty (95 %)"),
        Output("better", "word", "what would settle it"),
    )


def judged_values(judgement: Judged, unit: str, what: str = "reading") -> dict[str, Value]:
    """The values of ``judged_outputs``."""
    return {
        "verdict": judgement.verdict,
        "margin": judgement.margin,
        "uncertainty": judgement.expanded,
        "better": better_reading(judgement, unit, what) or "nothing more is needed",
    }
