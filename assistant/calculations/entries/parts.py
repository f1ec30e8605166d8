"""Capacitors and insulation in the catalogue."""

from __future__ import annotations

from typing import Any

from assistant.calculations import capacitors, insulation, parts
from assistant.calculations.entries.common import OUTCOME, judged_outputs, meter, read_by
from assistant.calculations.entry import Calculation, Output, quantity, word
from assistant.calculations.found import Found, Limit

_V = quantity("voltage", "voltage_ac", "voltage across it", said_in="V")
_I = quantity("current", "current", "current through it", said_in="A")
_F = quantity("frequency", "frequency", "line frequency", 60.0, said_in="Hz")
_RATED = quantity("rated", "capacitance", "printed value", said_in="uF")
_TOLERANCE = quantity("tolerance", "percent", "printed tolerance", capacitors.TOLERANCE_PERCENT)
_MEASURED = quantity("measured", "resistance", "insulation resistance", said_in="Mohm")
_WINDING_C = quantity("temperature", "temperature", "winding temperature", said_in="degF")


def _pulsing(**v: Any) -> Found:
    low, high = v["low"], v["high"] or v["low"]
    behaviour = None if v["behaviour"] == "not-told" else v["behaviour"]
    return parts.judge_pulsing(low, high, behaviour, v["swing"], v["present"])


ENTRIES = (
    Calculation(
        "capacitor-value",
        "capacitors",
        "capacitance from volts, amperes and frequency",
        (read_by(_V, "multimeter-ac"), read_by(_I, "clamp-ac"), _F),
        (Output("capacitance", "capacitance", "capacitance"),),
        "C = I/(2π·f·V)",
        "{current}/(2π·{frequency}·{voltage})",
        capacitors.CAPACITOR_SOURCE,
        lambda voltage, current, frequency: {"capacitance": capacitors.capacitance_uf(voltage, current, frequency)},
        spoken=("capacitor", "capacitance"),
    ),
    Calculation(
        "capacitor-current",
        "capacitors",
        "current that a good capacitor draws",
        (_RATED, _V, _F),
        (Output("current", "current", "current"),),
        "I = 2π·f·V·C",
        "2π·{frequency}·{voltage}·{rated}",
        capacitors.CAPACITOR_SOURCE,
        lambda rated, voltage, frequency: {"current": capacitors.expected_current_a(rated, voltage, frequency)},
    ),
    Calculation(
        "capacitor",
        "capacitors",
        "a measured capacitance judged",
        (
            read_by(
                quantity("measured", "capacitance", "measured", open_line=True, said_in="uF"),
                "multimeter-capacitance",
                "meter",
            ),
            _RATED,
            _TOLERANCE,
            word("kind", "kind of capacitor", capacitors.KINDS, "run"),
            *meter("multimeter-capacitance", "capacitance"),
        ),
        (
            Output("verdict", "word", "verdict"),
            OUTCOME,
            Output("low", "capacitance", "lowest allowed"),
            Output("high", "capacitance", "highest allowed"),
            *judged_outputs("capacitance")[1:],
        ),
        "rated ± tolerance",
        "{low} ≤ {measured} ≤ {high}",
        capacitors.TOLERANCE_SOURCE,
        lambda measured, rated, tolerance, kind, **_: capacitors.judge_capacitance(measured, rated, tolerance, kind),
        judges=True,
    ),
    Calculation(
        "capacitor-at-work",
        "capacitors",
        "a capacitor judged while it works",
        (
            read_by(_V, "multimeter-ac", "volts"),
            read_by(_I, "clamp-ac", "clamp"),
            _F,
            _RATED,
            _TOLERANCE,
            *meter("multimeter-ac", "voltage_ac", "volts"),
            *meter("clamp-ac", "current", "clamp"),
        ),
        (
            Output("capacitance", "capacitance", "capacitance"),
            Output("low", "capacitance", "lowest allowed"),
            Output("high", "capacitance", "highest allowed"),
            OUTCOME,
            *judged_outputs("capacitance"),
        ),
        "C = I/(2π·f·V); relative uncertainties add in squares",
        "{current}/(2π·{frequency}·{voltage}) against {low} to {high}",
        f"{capacitors.CAPACITOR_SOURCE}; {capacitors.TOLERANCE_SOURCE}; JCGM 100:2008 5.1.6",
        lambda voltage, current, frequency, rated, tolerance, **_: capacitors.judge_capacitor_at_work(
            voltage, current, frequency, rated, tolerance
        ),
        judges=True,
    ),
    Calculation(
        "insulation-corrected",
        "insulation",
        "insulation resistance corrected to 40 °C",
        (_MEASURED, _WINDING_C, quantity("reference", "temperature", "reference", 40.0)),
        (Output("corrected", "resistance", "corrected"),),
        "R·0.5^((40 - t)/10)",
        "{measured} at {temperature}, to {reference}",
        insulation.CORRECTION_SOURCE,
        lambda measured, temperature, reference: {
            "corrected": insulation.corrected_ohm(measured, temperature, reference)
        },
    ),
    Calculation(
        "insulation-minimum",
        "insulation",
        "least insulation resistance at 40 °C",
        (
            quantity("voltage", "voltage_ac", "rated voltage"),
            word("winding", "winding", ("random-wound", "form-wound", "before-1970"), "random-wound"),
        ),
        (Output("minimum", "resistance", "least"),),
        "kV + 1 Mohm before 1970, 100 Mohm form-wound, 5 Mohm random-wound",
        "{voltage}, {winding}",
        insulation.MINIMUM_SOURCE,
        lambda voltage, winding: {"minimum": insulation.minimum_ohm(voltage / 1000, winding)},
    ),
    Calculation(
        "polarization-index",
        "insulation",
        "ten-minute over one-minute insulation",
        (
            read_by(
                quantity("one_minute", "resistance", "after one minute", said_in="Mohm"), "insulation-tester", "meter"
            ),
            read_by(
                quantity("ten_minutes", "resistance", "after ten minutes", said_in="Mohm"), "insulation-tester", "meter"
            ),
            word("thermal_class", "thermal class", ("A", "B", "F", "H"), "F"),
            *meter("insulation-tester", "resistance"),
        ),
        (
            Output("index", "count", "polarization index"),
            Output("least", "count", "least allowed"),
            OUTCOME,
            *judged_outputs("count"),
        ),
        "PI = R10/R1",
        "{ten_minutes}/{one_minute}, class {thermal_class}",
        insulation.INDEX_SOURCE,
        lambda one_minute, ten_minutes, thermal_class, **_: insulation.judge_polarization_index(
            one_minute, ten_minutes, thermal_class
        ),
        judges=True,
    ),
    Calculation(
        "insulation",
        "insulation",
        "insulation resistance judged",
        (
            read_by(
                quantity("measured", "resistance", "insulation resistance", open_line=True, said_in="Mohm"),
                "insulation-tester",
                "meter",
            ),
            read_by(_WINDING_C._replace(optional=True), "contact-thermometer", "thermometer"),
            quantity("least", "resistance", "least allowed", insulation.LEAST_OHM, said_in="Mohm"),
            word("shell", "shell of the compressor", insulation.SHELLS, "warm"),
            quantity("thermometer", "temperature_difference", "how well the winding's temperature is known", 5.0),
            *meter("insulation-tester", "resistance"),
        ),
        (
            Output("corrected", "resistance", "corrected to 40 °C where the temperature is given"),
            OUTCOME,
            *judged_outputs("resistance"),
        ),
        "R, with a temperature R·0.5^((40 - t)/10), against the least",
        "{measured}, {shell} shell: {corrected}, least {least}",
        f"{insulation.CORRECTION_SOURCE}; {insulation.COLD_SOURCE}",
        lambda measured, temperature, least, shell, **_: insulation.judge_insulation(
            measured, temperature, least, shell
        ),
        spoken=("insulation",),
        judges=True,
    ),
    Calculation(
        "coil",
        "parts",
        "a coil judged by its resistance",
        (
            read_by(
                quantity("resistance", "resistance", "resistance", open_line=True, said_in="ohm"),
                "multimeter-ohm",
                "meter",
            ),
            quantity("nominal", "resistance", "the coil's own resistance", optional=True, said_in="ohm"),
            quantity("tolerance", "percent", "its tolerance", Limit(10.0))._replace(belongs_to="nominal"),
            quantity("low", "resistance", "lowest allowed without it", optional=True),
            quantity("high", "resistance", "highest allowed without it", optional=True),
            *meter("multimeter-ohm", "resistance"),
        ),
        (Output("outcome", "word", "coil"), *judged_outputs("resistance")),
        "shorted under 40 % of its value, open over three times it; without a value against a band",
        "{resistance}",
        "common practice, no source",
        lambda resistance, nominal, tolerance, low, high, **_: parts.judge_coil(
            resistance, nominal, tolerance, low, high
        ),
        judges=True,
    ),
    Calculation(
        "continuity",
        "parts",
        "wires, contacts or fuses end to end",
        (
            *(
                quantity(
                    name,
                    "resistance",
                    about,
                    optional=name != "first",
                    open_line=True,
                    said_in="ohm",
                    instrument="multimeter-ohm",
                    accuracy="meter",
                )
                for name, about in (("first", "first"), ("second", "second"), ("third", "third"), ("fourth", "fourth"))
            ),
            quantity("high", "resistance", "highest of a closed one", parts.CLOSED_OHM),
            *meter("multimeter-ohm", "resistance"),
        ),
        (Output("outcome", "word", "path"), Output("resistance", "resistance", "worst"), *judged_outputs("resistance")),
        "resistance ≤ high",
        "{resistance} against {high}",
        "a closed path has next to no resistance",
        lambda high, **v: parts.judge_continuity(
            {n: v[n] for n in ("first", "second", "third", "fourth") if v[n] is not None}, high
        ),
        judges=True,
    ),
    Calculation(
        "signal-source",
        "signal line",
        "the voltage that feeds a signal line",
        (
            read_by(quantity("voltage", "voltage_dc", "voltage", said_in="V"), "multimeter-dc", "meter"),
            quantity("low", "voltage_dc", "the unit's own lowest voltage", optional=True),
            *meter("multimeter-dc", "voltage_dc"),
        ),
        (Output("outcome", "word", "source"), Output("size", "voltage_dc", "size"), *judged_outputs("voltage_dc")),
        "V ≥ low; without the unit's own figure V ≥ 2 V, and nothing under 0.5 V",
        "{voltage}",
        "lines of 2.5 to 56 V exist: common practice, no source",
        lambda voltage, low, **_: parts.judge_signal_source(voltage, low),
        judges=True,
    ),
    Calculation(
        "signal-pulses",
        "signal line",
        "whether messages pass on a signal line",
        (
            read_by(quantity("low", "voltage_dc", "lowest of the display", said_in="V"), "multimeter-dc", "meter"),
            read_by(
                quantity("high", "voltage_dc", "highest of the display", optional=True, said_in="V"),
                "multimeter-dc",
                "meter",
            ),
            word("behaviour", "the display", ("jumping", "steady", "none", "not-told"), "not-told"),
            quantity("swing", "voltage_dc", "what it must move by", optional=True),
            quantity("present", "voltage_dc", "what is there at all", parts.NOTHING_V),
            *meter("multimeter-dc", "voltage_dc"),
        ),
        (
            Output("outcome", "word", "line"),
            Output("swing_found", "voltage_dc", "swing"),
            Output("wanted", "voltage_dc", "swing wanted"),
            Output("verdict", "word", "verdict"),
            Output("chance", "percent", "chance of that"),
        ),
        "highest - lowest against what it must move by (15 % of the height, 0.3 V at least)",
        "{low} to {high}, {behaviour}",
        "common practice, no source",
        _pulsing,
        judges=True,
    ),
)
