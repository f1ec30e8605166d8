"""The power stage in the catalogue."""

from __future__ import annotations

from assistant.calculations import bridge, power_stage
from assistant.calculations.entries.common import accuracy, meter
from assistant.calculations.entry import Calculation, Output, Value, given, quantity

_START = quantity("start", "voltage_dc", "starting voltage", said_in="V")
_LIMIT = quantity("limit", "voltage_dc", "voltage limit", 60.0, said_in="V")
_BLEED = quantity("bleed", "resistance", "bleed resistance", said_in="kohm")
_CAPACITANCE = quantity("capacitance", "capacitance", "bus capacitance", said_in="uF")
_LINE = quantity("line", "voltage_ac", "line voltage", said_in="V")


def _bridge(**v: float | None) -> dict[str, Value]:
    limits = {"meter_percent": v.pop("meter_percent") or 0.0, "meter_offset": v.pop("meter_offset") or 0.0}
    arms = {name.replace("_", "-"): given(value) for name, value in v.items() if value is not None}
    forward = {a: x for a, x in arms.items() if not a.startswith("back-")}
    backward = {a.removeprefix("back-"): x for a, x in arms.items() if a.startswith("back-")}
    found = bridge.judge_bridge(forward, accuracy(limits), backward)
    return {
        "outcome": found.outcome,
        "arms": ", ".join(found.arms) or "none",
        "spread": found.spread_v,
        "means": found.means,
    }


ENTRIES = (
    Calculation(
        "bus-voltage",
        "power stage",
        "idle bus voltage from the line",
        (_LINE, quantity("diode_drop", "voltage_dc", "drop of a diode", 0.0)),
        (Output("bus", "voltage_dc", "bus"),),
        "√2·V - 2·drop (a boost stage holds more; no fault)",
        "√2·{line} - 2·{diode_drop}",
        power_stage.RECTIFIER_SOURCE,
        lambda line, diode_drop: {"bus": power_stage.bus_peak_v(line, diode_drop)},
        spoken=("bus voltage",),
    ),
    Calculation(
        "bus-mean-three-phase",
        "power stage",
        "mean of a loaded three-phase bridge",
        (_LINE,),
        (Output("bus", "voltage_dc", "bus"),),
        "(3√2/π)·V",
        "1.3505·{line}",
        power_stage.RECTIFIER_SOURCE,
        lambda line: {"bus": power_stage.three_phase_mean_v(line)},
    ),
    Calculation(
        "bus-ripple",
        "power stage",
        "ripple of the bus under load",
        (
            _LINE,
            quantity("load", "current", "current from the bus", said_in="A"),
            _CAPACITANCE,
            quantity("frequency", "frequency", "line frequency", 60.0),
            quantity("phases", "count", "phases", 1.0),
        ),
        (Output("ripple", "voltage_dc", "ripple, peak to peak"),),
        "bus follows √2·V·|cos ωt| down to the slope I/C, then falls by I/C to the next pulse",
        "{load} from {capacitance} on {line} at {frequency}, {phases} phase",
        power_stage.RECTIFIER_SOURCE,
        lambda line, load, capacitance, frequency, phases: {
            "ripple": power_stage.ripple_v(line, load, capacitance, frequency, int(phases))
        },
    ),
    Calculation(
        "bleed-time",
        "power stage",
        "time for the bus to bleed down",
        (_START, _LIMIT, _BLEED, _CAPACITANCE),
        (
            Output("time", "duration", "time"),
            Output("safe_wait", "duration", "safe wait, parts at their slow end"),
            Output("note", "word", "note"),
        ),
        "t = R·C·ln(V0/V)",
        "{bleed}·{capacitance}·ln({start}/{limit})",
        f"{power_stage.DISCHARGE_SOURCE}; {power_stage.LIMIT_SOURCE}",
        lambda start, limit, bleed, capacitance: {
            "time": power_stage.bleed_time_s(start, limit, bleed, capacitance),
            "safe_wait": power_stage.safe_wait_s(start, limit, bleed, capacitance),
            "note": power_stage.SAFETY_NOTE,
        },
        spoken=("bleed time", "discharge time"),
    ),
    Calculation(
        "bus-remaining",
        "power stage",
        "bus voltage left after a wait",
        (_START, quantity("wait", "duration", "wait", said_in="min"), _BLEED, _CAPACITANCE),
        (Output("remaining", "voltage_dc", "left"), Output("note", "word", "note")),
        "V = V0·exp(-t/RC)",
        "{start}·exp(-{wait}/({bleed}·{capacitance}))",
        power_stage.DISCHARGE_SOURCE,
        lambda start, wait, bleed, capacitance: {
            "remaining": power_stage.remaining_v(start, wait, bleed, capacitance),
            "note": power_stage.SAFETY_NOTE,
        },
    ),
    Calculation(
        "bleed-from-decay",
        "power stage",
        "bleed resistance that explains a decay seen on the meter",
        (
            quantity("first", "voltage_dc", "first voltage", said_in="V"),
            quantity("later", "voltage_dc", "later voltage", said_in="V"),
            quantity("apart", "duration", "time between", said_in="s"),
            _CAPACITANCE,
        ),
        (Output("bleed", "resistance", "bleed resistance"),),
        "R = t/(C·ln(V1/V2))",
        "{apart}/({capacitance}·ln({first}/{later}))",
        power_stage.DISCHARGE_SOURCE,
        lambda first, later, apart, capacitance: {
            "bleed": power_stage.bleed_from_decay_ohm(first, later, apart, capacitance)
        },
    ),
    Calculation(
        "bus-energy",
        "power stage",
        "energy stored in the bus",
        (quantity("voltage", "voltage_dc", "bus voltage", said_in="V"), _CAPACITANCE),
        (Output("energy", "energy", "energy"),),
        "E = ½·C·V²",
        "½·{capacitance}·{voltage}²",
        "textbook",
        lambda voltage, capacitance: {"energy": power_stage.stored_energy_j(voltage, capacitance)},
    ),
    Calculation(
        "bridge-diodes",
        "power stage",
        "diode-mode symmetry of a three-phase bridge",
        (
            *(
                quantity(a.replace("-", "_"), "voltage_dc", f"{a.upper()} conducting", optional=True, open_line=True)
                for a in bridge.ARMS
            ),
            *(
                quantity(
                    f"back_{a.replace('-', '_')}",
                    "voltage_dc",
                    f"{a.upper()} the other way",
                    optional=True,
                    open_line=True,
                )
                for a in bridge.ARMS
            ),
            *meter(1.0, 0.002, "voltage_dc"),
        ),
        (
            Output("outcome", "word", "bridge"),
            Output("arms", "word", "arms"),
            Output("spread", "voltage_dc", "spread of like arms"),
            Output("means", "word", "meaning"),
        ),
        "largest difference among the arms of one rail against 0.05 V",
        "spread {spread}",
        bridge.BRIDGE_SOURCE,
        _bridge,
    ),
)
