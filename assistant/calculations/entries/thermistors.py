"""Thermistors in the catalogue."""

from __future__ import annotations

from typing import Any

from assistant.calculations import sensor_judging, thermistor_fit, thermistors
from assistant.calculations.entries.common import THERMOMETER, judged_outputs, meter, read_by
from assistant.calculations.entry import TABLE, Calculation, Output, Parameter, Value, quantity, word
from assistant.calculations.found import Found, Limit

BETA_SOURCE = "Beta equation, IEC 60539-1 (title from memory); R25 and Beta from the unit profile"
STEINHART_SOURCE = "Steinhart and Hart, Deep-Sea Research 15 (1968)"
TABLE_SOURCE = "the sensor's own table; ln R a monotone cubic of 1/T (Fritsch and Carlson 1980)"

_R = quantity("resistance", "resistance", "resistance", said_in="kohm", spoken=("resistance", "ohms"))
_T = quantity("temperature", "temperature", "temperature", said_in="degF")
_R25 = quantity("r25", "resistance", "resistance at 25 °C", said_in="kohm")
_BETA = quantity("beta", "kelvin", "Beta")
_ROWS = Parameter("table", TABLE, "rows of temperature and resistance")
_CURVE = (
    quantity("r25", "resistance", "resistance at 25 °C", optional=True, said_in="kohm"),
    quantity("beta", "kelvin", "Beta", optional=True),
    Parameter("table", TABLE, "rows of temperature and resistance", optional=True),
)
_SWEPT = ("room", "pipe", "outdoor", "discharge", "suction")
_ABC = tuple(quantity(n, "coefficient_per_kelvin", f"coefficient {n}") for n in "abc")
_TEMPERATURE = (Output("temperature", "temperature", "temperature"),)
_RESISTANCE = (Output("resistance", "resistance", "resistance"),)


def _judge(**v: Any) -> Found:
    curve = thermistors.curve_from(v["r25"], v["beta"], v["table"] or ())
    return sensor_judging.judge_sensor(v["resistance"], v["temperature"], curve, v["tolerance"], v["tolerance_k"])


def _sweep(**v: Any) -> Found:
    readings = {name: v[name] for name in _SWEPT if v[name] is not None}
    return sensor_judging.judge_sweep(readings, v["open_above"], v["short_below"])


def _connector(volts: float, reference: float, fixed: float, side: str, **v: Any) -> dict[str, Value]:
    ohm = thermistors.connector_ohm(volts, reference, fixed, side)
    curve = thermistors.curve_from(v["r25"], v["beta"], v["table"] or ())
    return {"temperature": curve.temperature_c(ohm), "resistance": ohm}


def _beta_fit(table: tuple[tuple[float, float], ...]) -> dict[str, Value]:
    fitted = thermistor_fit.fit_beta(table)
    return {"beta": fitted.curve.beta_k, "r25": fitted.curve.r25_ohm, "worst": fitted.worst_k}


def _steinhart_fit(table: tuple[tuple[float, float], ...]) -> dict[str, Value]:
    fitted = thermistor_fit.fit_steinhart_hart(table)
    return {"a": fitted.curve.a, "b": fitted.curve.b, "c": fitted.curve.c, "worst": fitted.worst_k}


ENTRIES = (
    Calculation(
        "thermistor-temperature-beta",
        "thermistors",
        "temperature from resistance by Beta",
        (_R, _R25, _BETA),
        _TEMPERATURE,
        "1/T = 1/298.15 K + ln(R/R25)/B",
        "1/T = 1/298.15 + ln({resistance}/{r25})/{beta}",
        BETA_SOURCE,
        lambda resistance, r25, beta: {"temperature": thermistors.BetaCurve(r25, beta).temperature_c(resistance)},
    ),
    Calculation(
        "thermistor-resistance-beta",
        "thermistors",
        "resistance from temperature by Beta",
        (_T, _R25, _BETA),
        _RESISTANCE,
        "R = R25·exp(B·(1/T - 1/298.15 K))",
        "R = {r25}·exp({beta}·(1/T - 1/298.15)) at {temperature}",
        BETA_SOURCE,
        lambda temperature, r25, beta: {"resistance": thermistors.BetaCurve(r25, beta).resistance_ohm(temperature)},
    ),
    Calculation(
        "thermistor-temperature-steinhart",
        "thermistors",
        "temperature from resistance by Steinhart-Hart",
        (_R, *_ABC),
        _TEMPERATURE,
        "1/T = a + b·ln R + c·(ln R)³",
        "1/T = {a} + {b}·ln R + {c}·(ln R)³ at {resistance}",
        STEINHART_SOURCE,
        lambda resistance, a, b, c: {"temperature": thermistors.SteinhartHartCurve(a, b, c).temperature_c(resistance)},
    ),
    Calculation(
        "thermistor-resistance-steinhart",
        "thermistors",
        "resistance from temperature by Steinhart-Hart",
        (_T, *_ABC),
        _RESISTANCE,
        "a + b·ln R + c·(ln R)³ = 1/T, solved for R",
        "{a} + {b}·ln R + {c}·(ln R)³ = 1/T at {temperature}",
        STEINHART_SOURCE,
        lambda temperature, a, b, c: {
            "resistance": thermistors.SteinhartHartCurve(a, b, c).resistance_ohm(temperature)
        },
    ),
    Calculation(
        "thermistor-temperature-table",
        "thermistors",
        "temperature from resistance by table",
        (_R, _ROWS),
        _TEMPERATURE,
        "table, ln R a monotone cubic of 1/T between rows",
        "{resistance} in the table {table}",
        TABLE_SOURCE,
        lambda resistance, table: {"temperature": thermistors.TableCurve(table).temperature_c(resistance)},
    ),
    Calculation(
        "thermistor-resistance-table",
        "thermistors",
        "resistance from temperature by table",
        (_T, _ROWS),
        _RESISTANCE,
        "table, ln R a monotone cubic of 1/T between rows",
        "{temperature} in the table {table}",
        TABLE_SOURCE,
        lambda temperature, table: {"resistance": thermistors.TableCurve(table).resistance_ohm(temperature)},
    ),
    Calculation(
        "thermistor-fit-beta",
        "thermistors",
        "Beta and R25 fitted to three or more points",
        (_ROWS,),
        (
            Output("beta", "kelvin", "Beta"),
            Output("r25", "resistance", "resistance at 25 °C"),
            Output("worst", "temperature_difference", "largest miss"),
        ),
        "ln R = ln R25 + B·(1/T - 1/298.15 K), least squares",
        "points {table}",
        BETA_SOURCE,
        _beta_fit,
    ),
    Calculation(
        "thermistor-fit-steinhart",
        "thermistors",
        "Steinhart-Hart fitted to three or more points",
        (_ROWS,),
        (
            *(Output(n, "coefficient_per_kelvin", f"coefficient {n}") for n in "abc"),
            Output("worst", "temperature_difference", "largest miss"),
        ),
        "1/T = a + b·ln R + c·(ln R)³, least squares",
        "points {table}",
        STEINHART_SOURCE,
        _steinhart_fit,
    ),
    Calculation(
        "sensor",
        "thermistors",
        "a sensor judged at a measured temperature",
        (
            read_by(
                quantity("resistance", "resistance", "resistance", open_line=True, said_in="kohm"),
                "multimeter-ohm",
                "meter",
            ),
            read_by(_T, "contact-thermometer", "thermometer"),
            *_CURVE,
            quantity("tolerance", "percent", "sensor tolerance", Limit(5.0)),
            quantity("tolerance_k", "temperature_difference", "what the control can bear", sensor_judging.TOLERANCE_K),
            *meter("multimeter-ohm", "resistance"),
            THERMOMETER,
        ),
        (
            Output("outcome", "word", "sensor"),
            Output("expected", "resistance", "expected"),
            Output("low", "resistance", "lowest allowed"),
            Output("high", "resistance", "highest allowed"),
            Output("reads_as", "temperature", "the control reads"),
            Output("error", "temperature_difference", "error"),
            Output("error_uncertainty", "temperature_difference", "uncertainty of the error (95 %)"),
            Output("tolerance_used", "percent", "tolerance", True),
            *judged_outputs("resistance"),
        ),
        "R against curve(T) ± tolerance; uncertainty = √(meter² + (thermometer·dR/dT)²)",
        "{resistance} at {temperature} against {low} to {high}",
        f"{BETA_SOURCE}; JCGM 100:2008 5.1.2; {sensor_judging.THRESHOLD_SOURCE}",
        _judge,
        spoken=("sensor", "thermistor"),
        judges=True,
    ),
    Calculation(
        "sensors-open-shorted",
        "thermistors",
        "the sensor that is open or shorted among several",
        (
            *(
                quantity(n, "resistance", n, optional=True, open_line=True, said_in="kohm", instrument="multimeter-ohm")
                for n in _SWEPT
            ),
            quantity("open_above", "resistance", "open above", sensor_judging.OPEN_ABOVE_OHM),
            quantity("short_below", "resistance", "shorted below", sensor_judging.SHORT_BELOW_OHM),
        ),
        (Output("outcome", "word", "at fault"), Output("how", "word", "how"), Output("verdict", "word", "verdict")),
        "shorted below ≤ resistance ≤ open above",
        "{short_below} to {open_above}",
        "a sensor is open or shorted far outside any service temperature",
        _sweep,
        judges=True,
    ),
    Calculation(
        "thermistor-connector",
        "thermistors",
        "sensor temperature from the volts at its connector",
        (
            quantity("volts", "voltage_dc", "volts at the connector", said_in="V", instrument="multimeter-dc"),
            quantity("reference", "voltage_dc", "reference voltage of the board", 5.0, said_in="V"),
            quantity("fixed", "resistance", "fixed resistor on the board", said_in="kohm"),
            word("side", "side of the sensor", thermistors.SENSOR_SIDES, "ground"),
            *_CURVE,
        ),
        (Output("temperature", "temperature", "temperature"), Output("resistance", "resistance", "sensor")),
        "R = R_fixed·V/(V_ref - V) with the sensor to ground, R_fixed·(V_ref - V)/V with it to the reference",
        "{volts} of {reference}, {fixed} fixed, sensor to {side}: {resistance}",
        f"{thermistors.DIVIDER_SOURCE}; {BETA_SOURCE}",
        _connector,
        spoken=("connector volts",),
    ),
)
