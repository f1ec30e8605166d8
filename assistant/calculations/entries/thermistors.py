"""Thermistors in the catalogue."""

from __future__ import annotations

from assistant.calculations import sensor_judging, thermistor_fit, thermistors
from assistant.calculations.entries.common import THERMOMETER, accuracy, judged_outputs, judged_values, meter
from assistant.calculations.entry import TABLE, Calculation, Output, Parameter, Value, given, quantity

BETA_SOURCE = "Beta equation, IEC 60539-1 (title from memory); R25 and Beta from the unit profile"
STEINHART_SOURCE = "Steinhart and Hart, Deep-Sea Research 15 (1968)"
TABLE_SOURCE = "the sensor's own table; ln R a monotone cubic of 1/T (Fritsch and Carlson 1980)"

_R = quantity("resistance", "resistance", "resistance", said_in="kohm", spoken=("resistance", "ohms"))
_T = quantity("temperature", "temperature", "temperature", said_in="degF")
_R25 = quantity("r25", "resistance", "resistance at 25 °C", said_in="kohm")
_BETA = quantity("beta", "kelvin", "Beta")
_ROWS = Parameter("table", TABLE, "rows of temperature and resistance")
_ABC = tuple(quantity(n, "coefficient_per_kelvin", f"coefficient {n}") for n in "abc")
_TEMPERATURE = (Output("temperature", "temperature", "temperature"),)
_RESISTANCE = (Output("resistance", "resistance", "resistance"),)


def _judge(**v: float) -> dict[str, Value]:
    rows: Value = v.pop("table", None)
    curve = thermistors.curve_from(v["r25"], v["beta"], rows if isinstance(rows, tuple) else ())
    found = sensor_judging.judge_sensor(
        given(v["resistance"]), v["temperature"], curve, v["tolerance"], accuracy(v), v["thermometer"]
    )
    against = found.against_limits
    return {
        "outcome": found.outcome,
        "expected": found.expected_ohm,
        "low": found.low_ohm,
        "high": found.high_ohm,
        "reads_as": found.reads_as_c,
        "error": found.error_k,
        **(
            judged_values(against, "ohm", "resistance")
            if against
            else {"verdict": "fail", "margin": None, "uncertainty": None, "better": "nothing more is needed"}
        ),
    }


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
            quantity("resistance", "resistance", "resistance", open_line=True, said_in="kohm"),
            _T,
            quantity("r25", "resistance", "resistance at 25 °C", optional=True, said_in="kohm"),
            quantity("beta", "kelvin", "Beta", optional=True),
            Parameter("table", TABLE, "rows of temperature and resistance", optional=True),
            quantity("tolerance", "percent", "sensor tolerance", 5.0),
            *meter(0.5, 10.0, "resistance"),
            THERMOMETER,
        ),
        (
            Output("outcome", "word", "sensor"),
            Output("expected", "resistance", "expected"),
            Output("low", "resistance", "lowest allowed"),
            Output("high", "resistance", "highest allowed"),
            Output("reads_as", "temperature", "the control reads"),
            Output("error", "temperature_difference", "error"),
            *judged_outputs("resistance"),
        ),
        "R against curve(T) ± tolerance; uncertainty = √(meter² + (thermometer·dR/dT)²)",
        "{resistance} at {temperature} against {low} to {high}",
        f"{BETA_SOURCE}; JCGM 100:2008 5.1.2; {sensor_judging.THRESHOLD_SOURCE}",
        _judge,
        spoken=("sensor", "thermistor"),
    ),
)
