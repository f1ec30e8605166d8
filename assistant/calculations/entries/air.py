"""Moist air and capacity in the catalogue."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from assistant.calculations import air, air_capacity, instruments
from assistant.calculations.atmosphere import atmospheric_kpa
from assistant.calculations.entries.common import ALTITUDE, OUTCOME, judged_outputs
from assistant.calculations.entry import Calculation, Output, Parameter, Value, quantity
from assistant.calculations.errors import Inconsistent, Missing
from assistant.calculations.found import Found


def _state(prefix: str, about: str, accuracy: str = "") -> tuple[Parameter, ...]:
    """Dry bulb and one of wet bulb, relative humidity or dew point."""

    def temperature(name: str, of: str, optional: bool = True) -> Parameter:
        return quantity(
            f"{prefix}{name}",
            "temperature",
            f"{about}{of}",
            optional=optional,
            said_in="degF",
            instrument="air-thermometer",
            accuracy=accuracy,
        )

    return (
        temperature("dry_bulb", "dry bulb", optional=False),
        temperature("wet_bulb", "wet bulb"),
        quantity(f"{prefix}humidity", "humidity", f"{about}relative humidity", optional=True, instrument="hygrometer"),
        temperature("dew_point", "dew point"),
    )


_ENTERING, _LEAVING = _state("in_", "entering "), _state("out_", "leaving ")
_AIRFLOW = quantity("airflow", "airflow", "airflow at the entering air", said_in="cfm", instrument="anemometer")
_RETURN = _state("", "return ")


#: The second readings of a state, and how air is made of each.
_SECOND: dict[str, Callable[[float, float, float], air.Air]] = {
    "wet_bulb": air.air_from_wet_bulb,
    "humidity": air.air_from_relative_humidity,
    "dew_point": air.air_from_dew_point,
}


def _second(v: Mapping[str, Any], prefix: str = "") -> str:
    """Which second reading was given. Raises Missing without one, Inconsistent with several."""
    given = [name for name in _SECOND if v[f"{prefix}{name}"] is not None]
    one_of = f"one of {prefix}wet_bulb, {prefix}humidity or {prefix}dew_point"
    if not given:
        raise Missing(f"Beside {prefix}dry_bulb {one_of} is needed.")
    if len(given) > 1:
        raise Inconsistent(f"{prefix}{given[0]} and {prefix}{given[1]} both tell the humidity; give {one_of} only.")
    return given[0]


def _air(v: Mapping[str, Any], prefix: str = "") -> air.Air:
    """The state from whichever second reading was given."""
    name = _second(v, prefix)
    return _SECOND[name](v[f"{prefix}dry_bulb"], v[f"{prefix}{name}"], atmospheric_kpa(v["altitude"]))


def _moist(**v: float) -> dict[str, Value]:
    state = _air(v)
    return {
        "relative_humidity": state.relative_humidity_percent,
        "wet": state.wet_bulb_c,
        "dew": state.dew_point_c,
        "ratio": state.humidity_ratio,
        "enthalpy": state.enthalpy_kj_kg,
        "volume": state.volume_m3_kg,
        "density": state.density_kg_m3,
    }


def _capacity(**v: float) -> dict[str, Value]:
    found = air_capacity.capacity(v["airflow"], _air(v, "in_"), _air(v, "out_"))
    ratio = found.sensible_ratio
    return {
        "total": found.total_w,
        "sensible": found.sensible_w,
        "latent": found.latent_w,
        "condensate": found.condensate_kg_h,
        "dry_air": found.dry_air_kg_s * 3600,
        "ratio": ratio,
    }


def _airflow(**v: float) -> dict[str, Value]:
    flow = air_capacity.airflow_from_capacity_m3_h(v["sensible"], _air(v, "in_"), _air(v, "out_"))
    return {"airflow": flow}


def _split(**v: Any) -> Found:
    second = _second(v)
    make, pressure = _SECOND[second], atmospheric_kpa(v["altitude"])
    return air_capacity.judge_split(
        v["dry_bulb"],
        v[second],
        v["supply"],
        v["capacity"],
        v["airflow"],
        lambda dry, other: make(dry, other, pressure),
        v["tolerance"],
    )


def _expected(**v: float) -> dict[str, Value]:
    found = air_capacity.expected_split(_air(v), v["capacity"], v["airflow"])
    return {"split": found.split_k, "coil": found.coil_c, "kind": "dry coil" if found.dry else "wet coil"}


ENTRIES = (
    Calculation(
        "moist-air",
        "air",
        "state of moist air from two readings",
        (*_RETURN, ALTITUDE),
        (
            Output("relative_humidity", "humidity", "relative humidity"),
            Output("wet", "temperature", "wet bulb"),
            Output("dew", "temperature", "dew point"),
            Output("ratio", "humidity_ratio", "humidity ratio"),
            Output("enthalpy", "enthalpy", "enthalpy"),
            Output("volume", "specific_volume", "volume"),
            Output("density", "density", "density"),
        ),
        "W = 0.621945·pw/(p - pw); h = 1.006·t + W·(2501 + 1.86·t)",
        "dry bulb {dry_bulb}, altitude {altitude}",
        air.AIR_SOURCE,
        _moist,
        spoken=("moist air", "dew point"),
    ),
    Calculation(
        "capacity",
        "air",
        "total, sensible and latent capacity from readings",
        (_AIRFLOW, *_ENTERING, *_LEAVING, ALTITUDE),
        (
            Output("total", "power", "total"),
            Output("sensible", "power", "sensible"),
            Output("latent", "power", "latent"),
            Output("condensate", "mass_flow", "condensate"),
            Output("dry_air", "mass_flow", "dry air"),
            Output("ratio", "count", "sensible ratio"),
        ),
        "m·(h1 - h2); sensible m·cp·(t1 - t2); water m·(W1 - W2)",
        "{airflow} from {in_dry_bulb} to {out_dry_bulb}: {dry_air}",
        f"{air_capacity.BALANCE_SOURCE}; {air.AIR_SOURCE}",
        _capacity,
        spoken=("capacity",),
    ),
    Calculation(
        "condensate",
        "air",
        "water that must run from the drain",
        (_AIRFLOW, *_ENTERING, *_LEAVING, ALTITUDE),
        (Output("condensate", "mass_flow", "condensate"),),
        "m·(W1 - W2)",
        "{airflow} from {in_dry_bulb} to {out_dry_bulb}",
        f"{air_capacity.BALANCE_SOURCE}; {air.AIR_SOURCE}",
        lambda **v: {"condensate": air_capacity.condensate_kg_h(v["airflow"], _air(v, "in_"), _air(v, "out_"))},
        spoken=("condensate",),
    ),
    Calculation(
        "airflow",
        "air",
        "airflow from a known sensible capacity",
        (
            quantity("sensible", "power", "sensible heat, negative for heating", said_in="Btu/h"),
            *_ENTERING,
            *_LEAVING,
            ALTITUDE,
        ),
        (Output("airflow", "airflow", "airflow"),),
        "Q/(ρ·cp·Δt)",
        "{sensible} from {in_dry_bulb} to {out_dry_bulb}",
        air_capacity.BALANCE_SOURCE,
        _airflow,
        spoken=("airflow",),
    ),
    Calculation(
        "cop",
        "air",
        "coefficient of performance",
        (
            quantity("capacity", "power", "capacity", said_in="Btu/h"),
            quantity("power", "power", "electric power", said_in="W", instrument="wattmeter"),
        ),
        (Output("cop", "count", "COP"),),
        "capacity/electric power",
        "{capacity}/{power}",
        air_capacity.COP_SOURCE,
        lambda capacity, power: {"cop": air_capacity.coefficient_of_performance(capacity, power)},
        spoken=("cop", "coefficient of performance"),
    ),
    Calculation(
        "expected-split",
        "air",
        "temperature split to be expected from conditions",
        (*_RETURN, quantity("capacity", "power", "capacity", said_in="Btu/h"), _AIRFLOW, ALTITUDE),
        (
            Output("split", "temperature_difference", "split expected"),
            Output("coil", "temperature", "coil surface"),
            Output("kind", "word", "coil"),
        ),
        "(1 - 0.15)·(t - t_coil), h_coil = h - q/(1 - 0.15)",
        "{capacity} from {airflow} at {dry_bulb}: coil {coil}",
        air_capacity.SPLIT_SOURCE,
        _expected,
    ),
    Calculation(
        "split",
        "air",
        "temperature split judged against conditions",
        (
            *_state("", "return ", "thermometer"),
            quantity(
                "supply",
                "temperature",
                "supply temperature",
                said_in="degF",
                instrument="air-thermometer",
                accuracy="thermometer",
            ),
            quantity("capacity", "power", "capacity", said_in="Btu/h"),
            quantity("airflow", "airflow", "airflow at the entering air", said_in="cfm"),
            quantity("tolerance", "temperature_difference", "tolerance", air_capacity.SPLIT_TOLERANCE_K),
            quantity(
                "thermometer",
                "temperature_difference",
                "thermometer accuracy",
                instruments.usual("air-thermometer").offset,
            ),
            ALTITUDE,
        ),
        (
            Output("split", "temperature_difference", "split"),
            Output("expected", "temperature_difference", "expected"),
            OUTCOME,
            *judged_outputs("temperature_difference"),
        ),
        "return - supply against the expected split",
        "{dry_bulb} - {supply} against {expected}",
        air_capacity.SPLIT_SOURCE,
        _split,
        spoken=("split", "temperature split"),
        judges=True,
    ),
)
