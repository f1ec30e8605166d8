"""Electrical power in the catalogue."""

from __future__ import annotations

from assistant.calculations import electrical_power
from assistant.calculations.entries.common import OUTCOME, judged_outputs, meter, read_by
from assistant.calculations.entry import Calculation, Output, quantity

_V = quantity("voltage", "voltage_ac", "voltage", said_in="V")
_I = quantity("current", "current", "current", said_in="A")
_W = quantity("power", "power", "active power", said_in="W")
_FACTOR = quantity("factor", "count", "power factor", 1.0)
_PHASES = quantity("phases", "count", "phases", 1.0)

ENTRIES = (
    Calculation(
        "power",
        "electrical power",
        "active, apparent and reactive power",
        (read_by(_V, "multimeter-ac"), read_by(_I, "clamp-ac"), _FACTOR, _PHASES),
        (
            Output("active", "power", "active power"),
            Output("apparent", "apparent_power", "apparent power"),
            Output("reactive", "reactive_power", "reactive power"),
        ),
        "V·I·cos φ single-phase, √3·V·I·cos φ three-phase",
        "{voltage}·{current}·{factor}, {phases} phase",
        electrical_power.POWER_SOURCE,
        lambda voltage, current, factor, phases: {
            "active": electrical_power.active_w(voltage, current, factor, int(phases)),
            "apparent": electrical_power.apparent_va(voltage, current, int(phases)),
            "reactive": electrical_power.reactive_var(voltage, current, factor, int(phases)),
        },
        spoken=("power",),
    ),
    Calculation(
        "power-factor",
        "electrical power",
        "power factor from watts, volts and amperes",
        (read_by(_W, "wattmeter"), read_by(_V, "multimeter-ac"), read_by(_I, "clamp-ac"), _PHASES),
        (Output("factor", "count", "power factor"),),
        "P/(V·I), P/(√3·V·I) three-phase",
        "{power}/({voltage}·{current}), {phases} phase",
        electrical_power.POWER_SOURCE,
        lambda power, voltage, current, phases: {
            "factor": electrical_power.power_factor(power, voltage, current, int(phases))
        },
        spoken=("power factor",),
    ),
    Calculation(
        "line-current",
        "electrical power",
        "line current from power",
        (_W, _V, quantity("factor", "count", "power factor"), _PHASES),
        (Output("current", "current", "current"),),
        "P/(V·cos φ), P/(√3·V·cos φ) three-phase",
        "{power}/({voltage}·{factor}), {phases} phase",
        electrical_power.POWER_SOURCE,
        lambda power, voltage, factor, phases: {
            "current": electrical_power.current_from_power_a(power, voltage, factor, int(phases))
        },
    ),
    Calculation(
        "running-current",
        "electrical power",
        "running current judged against the nameplate",
        (
            read_by(_I, "clamp-ac", "meter"),
            quantity("nameplate", "current", "nameplate current", said_in="A"),
            quantity("low", "percent", "least share of it", electrical_power.RUNNING_LOW_PERCENT),
            quantity("high", "percent", "greatest share of it", electrical_power.RUNNING_HIGH_PERCENT),
            *meter("clamp-ac", "current"),
        ),
        (
            Output("verdict", "word", "verdict"),
            OUTCOME,
            Output("share", "percent", "share of the nameplate"),
            *judged_outputs("percent")[1:],
        ),
        "100·I/nameplate",
        "100·{current}/{nameplate} in {low} to {high}",
        electrical_power.NAMEPLATE_SOURCE,
        lambda current, nameplate, low, high, **_: electrical_power.judge_running_current(
            current, nameplate, low, high
        ),
        spoken=("running current",),
        judges=True,
    ),
)
