"""Parameters and outputs that many entries share."""

from __future__ import annotations

from assistant.calculations import atmosphere, instruments
from assistant.calculations.entry import Output, Parameter, quantity, word
from assistant.calculations.refrigerants import REFRIGERANTS

ALTITUDE = quantity("altitude", "length", "altitude of the site", 0.0, said_in="ft")
REFRIGERANT = word("refrigerant", "refrigerant", tuple(REFRIGERANTS))

#: How well each instrument reads, where the caller knows better than what is usual. The first word is the
#: ``accuracy`` of the parameters that they belong to.
THERMOMETER = quantity(
    "thermometer",
    "temperature_difference",
    "thermometer accuracy",
    instruments.usual("contact-thermometer").offset,
)


def meter(instrument: str, kind: str, prefix: str = "meter") -> tuple[Parameter, Parameter]:
    """The two parts of a meter's accuracy, with those of the usual ``instrument``."""
    accuracy, name = instruments.usual(instrument), "gauge" if prefix == "gauge" else prefix
    return (
        quantity(f"{prefix}_percent", "percent", f"{name} accuracy, percent of reading", accuracy.percent_of_reading),
        quantity(f"{prefix}_offset", kind, f"{name} accuracy, fixed part", accuracy.offset),
    )


GAUGE = meter("digital-gauge", "pressure_gauge", "gauge")


def read_by(parameter: Parameter, instrument: str, accuracy: str = "") -> Parameter:
    """The parameter as a reading of the usual ``instrument``; ``accuracy``: the parameters that may say better."""
    return parameter._replace(instrument=instrument, accuracy=accuracy)


def judged_outputs(kind: str) -> tuple[Output, ...]:
    """What every judgement of a number against limits gives beside its own."""
    return (
        Output("verdict", "word", "verdict"),
        Output("margin", kind, "distance to the nearest limit"),
        Output("uncertainty", kind, "uncertainty (95 %)"),
        Output("chance", "percent", "chance of that"),
        Output("better", "word", "what would settle it"),
    )


#: The outcome of a judgement in one word, as the visit has it.
OUTCOME = Output("outcome", "word", "outcome")


SUCTION = quantity(
    "suction", "pressure_gauge", "suction pressure", said_in="psi", spoken=("suction", "suction pressure")
)

LIQUID = quantity("liquid", "pressure_gauge", "liquid pressure", said_in="psi", spoken=("liquid", "liquid pressure"))

GAUGED = {
    name: read_by(parameter, "digital-gauge", "gauge")
    for name, parameter in (
        ("suction", SUCTION),
        ("liquid", LIQUID),
        ("pressure", quantity("pressure", "pressure_gauge", "pressure", said_in="psi")),
    )
}

CYCLE_ERRORS = f"saturation tables (CoolProp); {atmosphere.ATMOSPHERE_SOURCE}, weather ±2 kPa; JCGM 100:2008 5.1.3"


PHASES = quantity("phases", "count", "phases", 1.0)

METAL = word("metal", "conductor metal", ("copper", "aluminium"), "copper")
