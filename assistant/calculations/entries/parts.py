"""Capacitors and insulation in the catalogue."""

from __future__ import annotations

from assistant.calculations import capacitors, insulation
from assistant.calculations.entries.common import accuracy, judged_outputs, judged_values, meter
from assistant.calculations.entry import Calculation, Output, Value, quantity, word
from assistant.calculations.uncertainty import Accuracy

_V = quantity("voltage", "voltage_ac", "voltage across it", said_in="V")
_I = quantity("current", "current", "current through it", said_in="A")
_F = quantity("frequency", "frequency", "line frequency", 60.0, said_in="Hz")
_RATED = quantity("rated", "capacitance", "printed value", said_in="uF")
_TOLERANCE = quantity("tolerance", "percent", "printed tolerance", 5.0)
_MEASURED = quantity("measured", "resistance", "insulation resistance", said_in="Mohm")
_WINDING_C = quantity("temperature", "temperature", "winding temperature", said_in="degF")


def _by_meter(**v: float) -> dict[str, Value]:
    found = capacitors.judge_capacitance(v["measured"], v["rated"], v["tolerance"], accuracy(v))
    return {"low": found.low_uf, "high": found.high_uf, **judged_values(found.against, "µF", "capacitance")}


def _at_work(**v: float) -> dict[str, Value]:
    found = capacitors.judge_capacitor_at_work(
        v["voltage"],
        v["current"],
        v["frequency"],
        v["rated"],
        v["tolerance"],
        Accuracy(v["volts_percent"]),
        Accuracy(v["clamp_percent"]),
    )
    value = capacitors.capacitance_uf(v["voltage"], v["current"], v["frequency"])
    judged = judged_values(found.against, "µF", "capacitance")
    return {"capacitance": value, "low": found.low_uf, "high": found.high_uf, **judged}


def _insulation(**v: float) -> dict[str, Value]:
    found = insulation.judge_insulation(v["measured"], v["temperature"], v["least"], accuracy(v), v["thermometer"])
    return {"corrected": found.corrected_ohm, **judged_values(found.against, "ohm", "insulation resistance")}


ENTRIES = (
    Calculation(
        "capacitor-value",
        "capacitors",
        "capacitance from volts, amperes and frequency",
        (_V, _I, _F),
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
            quantity("measured", "capacitance", "measured", said_in="uF"),
            _RATED,
            _TOLERANCE,
            *meter(2.0, 0.05, "capacitance"),
        ),
        (
            *judged_outputs("capacitance")[:1],
            Output("low", "capacitance", "lowest allowed"),
            Output("high", "capacitance", "highest allowed"),
            *judged_outputs("capacitance")[1:],
        ),
        "rated ± tolerance",
        "{low} ≤ {measured} ± {uncertainty} ≤ {high}",
        capacitors.TOLERANCE_SOURCE,
        _by_meter,
    ),
    Calculation(
        "capacitor-at-work",
        "capacitors",
        "a capacitor judged while it works",
        (
            _V,
            _I,
            _F,
            _RATED,
            _TOLERANCE,
            quantity("volts_percent", "percent", "voltmeter accuracy", 0.8),
            quantity("clamp_percent", "percent", "clamp accuracy", 2.0),
        ),
        (
            Output("capacitance", "capacitance", "capacitance"),
            Output("low", "capacitance", "lowest allowed"),
            Output("high", "capacitance", "highest allowed"),
            *judged_outputs("capacitance"),
        ),
        "C = I/(2π·f·V); relative uncertainties add in squares",
        "{current}/(2π·{frequency}·{voltage}) against {low} to {high}",
        f"{capacitors.CAPACITOR_SOURCE}; {capacitors.TOLERANCE_SOURCE}; JCGM 100:2008 5.1.6",
        _at_work,
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
            quantity("one_minute", "resistance", "after one minute", said_in="Mohm"),
            quantity("ten_minutes", "resistance", "after ten minutes", said_in="Mohm"),
            word("thermal_class", "thermal class", ("A", "B", "F", "H"), "F"),
            *meter(5.0, 0.0, "resistance"),
        ),
        (Output("index", "count", "polarization index"), *judged_outputs("count")),
        "PI = R10/R1",
        "{ten_minutes}/{one_minute}, class {thermal_class}",
        insulation.INDEX_SOURCE,
        lambda **v: {
            "index": insulation.polarization_index(v["one_minute"], v["ten_minutes"]),
            **judged_values(
                insulation.judge_polarization_index(v["one_minute"], v["ten_minutes"], v["thermal_class"], accuracy(v)),
                "",
                "index",
            ),
        },
    ),
    Calculation(
        "insulation",
        "insulation",
        "insulation resistance judged at 40 °C",
        (
            _MEASURED,
            _WINDING_C,
            quantity("least", "resistance", "least allowed", 5e6, said_in="Mohm"),
            quantity("thermometer", "temperature_difference", "how well the winding's temperature is known", 5.0),
            *meter(5.0, 0.0, "resistance"),
        ),
        (Output("corrected", "resistance", "corrected to 40 °C"), *judged_outputs("resistance")),
        "R·0.5^((40 - t)/10) against the least",
        "{measured} at {temperature} → {corrected}, least {least}",
        f"{insulation.CORRECTION_SOURCE}; {insulation.MINIMUM_SOURCE}",
        _insulation,
        spoken=("insulation",),
    ),
)
