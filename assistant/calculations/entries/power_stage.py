"""The power stage in the catalogue."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from assistant.calculations import bridge, bus_judging, power_stage, supplied
from assistant.calculations.entries.common import judged_outputs, meter, read_by
from assistant.calculations.entry import Calculation, Output, Parameter, quantity, word
from assistant.calculations.found import Found
from assistant.calculations.sampling import SAMPLING_SOURCE
from assistant.calculations.uncertainty import Metered

_START = quantity("start", "voltage_dc", "starting voltage", said_in="V")
_LIMIT = quantity("limit", "voltage_dc", "voltage limit", 60.0, said_in="V")
_BLEED = quantity("bleed", "resistance", "bleed resistance", said_in="kohm")
_CAPACITANCE = quantity("capacitance", "capacitance", "bus capacitance", said_in="uF")
_LINE = quantity("line", "voltage_ac", "line voltage", said_in="V")


def _bridge(**v: Any) -> Found:
    arms = {name.replace("_", "-"): reading for name, reading in v.items() if isinstance(reading, Metered)}
    forward = {a: x for a, x in arms.items() if not a.startswith("back-")}
    backward = {a.removeprefix("back-"): x for a, x in arms.items() if a.startswith("back-")}
    return bridge.judge_bridge(forward, backward, v["alike"], v["short_below"])


def _dead(voltage: Metered, second: Metered | None, dead_below: float, **_: Any) -> Found:
    found = bus_judging.judge_absent([voltage] if second is None else [voltage, second], dead_below, in_series=True)
    return replace(found, values={**found.values, "note": power_stage.SAFETY_NOTE})


def _arm(name: str, about: str) -> Parameter:
    return quantity(name, "voltage_dc", about, optional=True, open_line=True, instrument="diode-test", accuracy="meter")


ENTRIES = (
    Calculation(
        "bus-voltage",
        "power stage",
        "idle bus voltage from the line",
        (read_by(_LINE, "multimeter-ac"), quantity("diode_drop", "voltage_dc", "drop of a diode", 0.0)),
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
            read_by(quantity("first", "voltage_dc", "first voltage", said_in="V"), "multimeter-dc"),
            read_by(quantity("later", "voltage_dc", "later voltage", said_in="V"), "multimeter-dc"),
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
        (read_by(quantity("voltage", "voltage_dc", "bus voltage", said_in="V"), "multimeter-dc"), _CAPACITANCE),
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
            *(_arm(a.replace("-", "_"), f"{a.upper()} conducting") for a in bridge.ARMS),
            *(_arm(f"back_{a.replace('-', '_')}", f"{a.upper()} the other way") for a in bridge.ARMS),
            quantity("alike", "voltage_dc", "like arms differ by at most", bridge.ALIKE_V),
            quantity("short_below", "voltage_dc", "shorted below", bridge.SHORT_BELOW_V),
            *meter("diode-test", "voltage_dc"),
        ),
        (
            Output("outcome", "word", "bridge"),
            Output("places", "word", "arms"),
            Output("spread", "voltage_dc", "spread of like arms"),
            Output("means", "word", "meaning"),
            Output("parts", "word", "it looks like"),
            *judged_outputs("voltage_dc"),
        ),
        "largest difference among the arms of one rail",
        "spread {spread}",
        f"{bridge.BRIDGE_SOURCE}; {SAMPLING_SOURCE}",
        _bridge,
        judges=True,
    ),
    Calculation(
        "bus",
        "power stage",
        "the live bus judged against its line",
        (
            read_by(quantity("voltage", "voltage_dc", "bus voltage", said_in="V"), "multimeter-dc", "meter"),
            read_by(_LINE, "multimeter-ac"),
            quantity("boosted", "voltage_dc", "what the boost stage holds", optional=True),
            word("calling", "the unit is told to run", bus_judging.CALLING, "yes"),
            quantity("band", "percent", "band", bus_judging.BAND_PERCENT),
            *meter("multimeter-dc", "voltage_dc"),
        ),
        (
            Output("outcome", "word", "bus"),
            Output("peak", "voltage_dc", "peak of the line"),
            Output("low", "voltage_dc", "lowest allowed"),
            Output("high", "voltage_dc", "highest allowed"),
            Output("stage", "word", "it looks"),
            *judged_outputs("voltage_dc"),
        ),
        "√2·V less the band to the highest that doubler or boost stage give",
        "{voltage} in {low} to {high}, line {line}",
        f"{power_stage.RECTIFIER_SOURCE}; {bus_judging.LIVE_SOURCE}",
        lambda voltage, line, boosted, calling, band, **_: bus_judging.judge_bus(voltage, line, boosted, calling, band),
        judges=True,
    ),
    Calculation(
        "bus-dead",
        "power stage",
        "whether the bus is dead",
        (
            read_by(
                quantity("voltage", "voltage_dc", "bus voltage", open_line=True, said_in="V"), "multimeter-dc", "meter"
            ),
            read_by(
                quantity("second", "voltage_dc", "second capacitor in series", optional=True, open_line=True),
                "multimeter-dc",
                "meter",
            ),
            quantity("dead_below", "voltage_dc", "dead below", bus_judging.DEAD_BELOW_V),
            *meter("multimeter-dc", "voltage_dc"),
        ),
        (
            Output("outcome", "word", "bus"),
            *judged_outputs("voltage_dc"),
            Output("note", "word", "note"),
        ),
        "|V| + U ≤ limit, capacitors in series added; every doubt is present",
        "{voltage} against {dead_below}",
        "the unit profile's own limit wins",
        _dead,
        judges=True,
    ),
    Calculation(
        "pull-down",
        "power stage",
        "a rail that a part pulls down",
        (
            read_by(quantity("plugged", "voltage_dc", "volts, part plugged in", said_in="V"), "multimeter-dc", "meter"),
            read_by(
                quantity("unplugged", "voltage_dc", "volts, part unplugged", said_in="V"), "multimeter-dc", "meter"
            ),
            quantity("low", "voltage_dc", "least voltage of the rail", supplied.RAIL_LOW_V),
            *meter("multimeter-dc", "voltage_dc"),
        ),
        (Output("outcome", "word", "rail"), *judged_outputs("voltage_dc")),
        "plugged ≥ low? unplugged ≥ low?",
        "{plugged}, {unplugged}, least {low}",
        "what comes back was pulled down by what was unplugged (circuit)",
        lambda plugged, unplugged, low, **_: supplied.judge_pull_down(plugged, unplugged, low),
        judges=True,
    ),
    Calculation(
        "supplied",
        "power stage",
        "a part that has its supply and does not work",
        (
            read_by(
                quantity("voltage", "voltage_dc", "supply of the part", optional=True, said_in="V"),
                "multimeter-dc",
                "meter",
            ),
            word("works", "it works", supplied.YES_NO),
            quantity("low", "voltage_dc", "least supply", supplied.RAIL_LOW_V),
            *meter("multimeter-dc", "voltage_dc"),
        ),
        (Output("outcome", "word", "part"), *judged_outputs("voltage_dc")),
        "supply ≥ low while the part does not work",
        "{voltage}, works {works}, least {low}",
        "a part with its supply that does not work has failed (circuit)",
        lambda voltage, works, low, **_: supplied.judge_supplied(voltage, works, low),
        judges=True,
    ),
)
