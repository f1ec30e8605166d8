"""What a coil does to the air: capacity, condensate, airflow, temperature split, coefficient of performance.

W, m³/h, kg/h, °C, K, kPa. Airflow is the volume where it is measured, taken to dry air by that state's volume.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from assistant.calculations.air import Air, saturated_enthalpy_kj_kg
from assistant.calculations.errors import Inconsistent, within
from assistant.calculations.found import Found, Limit, sided
from assistant.calculations.halving import last_where
from assistant.calculations.uncertainty import Metered, judged, propagated
from assistant.calculations.units import shown

BALANCE_SOURCE = (
    "enthalpy balance per kg of dry air, ASHRAE Fundamentals 2017 chapter 1 (heat of the condensate left out)"
)
COP_SOURCE = "capacity over electric power (definition)"
SPLIT_SOURCE = "coil line to saturation with bypass 0.15 and the enthalpy drop of nominal capacity at nominal airflow"

#: Share of the air that passes the coil untouched. Common practice for finned coils, no source.
BYPASS = 0.15
SPLIT_TOLERANCE_K = Limit(3 / 1.8, "California Title 24, 2008 Residential Appendix RA3.2.2.7: ±3 °F")


class Capacity(NamedTuple):
    """Heat taken from (positive) or given to (negative) the air, W; ``condensate_kg_h`` of water; dry air in kg/s."""

    total_w: float
    sensible_w: float
    latent_w: float
    condensate_kg_h: float
    dry_air_kg_s: float

    @property
    def sensible_ratio(self) -> float | None:
        """Sensible over total heat, None when there is no heat to speak of."""
        return self.sensible_w / self.total_w if abs(self.total_w) > 1 else None


def dry_air_kg_s(airflow_m3_h: float, state: Air) -> float:
    """Mass of dry air in kg/s of ``airflow_m3_h`` (1 to 100 000) measured at ``state``."""
    return within("airflow", airflow_m3_h, 1, 1e5, "m³/h") / 3600 / state.volume_m3_kg


def capacity(airflow_m3_h: float, entering: Air, leaving: Air, measured_at: Air | None = None) -> Capacity:
    """Total, sensible and latent capacity of a coil in W, and its condensate. Source: BALANCE_SOURCE.

    ``airflow_m3_h`` is measured at the entering air, or at ``measured_at``. total = m·(h1 - h2), sensible =
    m·(1.006 + 1.86·W2)·(t1 - t2), latent the rest, condensate m·(W1 - W2); negative when the air gains water.
    Takes ``airflow_m3_h`` 1 to 1e5.
    """
    mass = dry_air_kg_s(airflow_m3_h, measured_at or entering)
    total = 1000 * mass * (entering.enthalpy_kj_kg - leaving.enthalpy_kj_kg)
    moist_heat = 1.006 + 1.86 * leaving.humidity_ratio
    sensible = 1000 * mass * moist_heat * (entering.dry_bulb_c - leaving.dry_bulb_c)
    water = 3600 * mass * (entering.humidity_ratio - leaving.humidity_ratio)
    return Capacity(total, sensible, total - sensible, water, mass)


def condensate_kg_h(airflow_m3_h: float, entering: Air, leaving: Air) -> float:
    """Water that must run from the drain, kg/h (about litres an hour); negative: none. Source: BALANCE_SOURCE.

    Takes ``airflow_m3_h`` 1 to 1e5.
    """
    return capacity(airflow_m3_h, entering, leaving).condensate_kg_h


def airflow_from_capacity_m3_h(sensible_w: float, entering: Air, leaving: Air) -> float:
    """Airflow at the entering air, m³/h, that explains a known sensible heat (1 W to 1 MW). Source: BALANCE_SOURCE.

    For a heater of known power or a rated coil. Raises Inconsistent when the air warms though it should cool or changes
    by less than 0.5 K, where the answer means nothing.
    Takes ``sensible_w`` 1 to 1e6.
    """
    within("sensible heat", abs(sensible_w), 1, 1e6, "W")
    change = entering.dry_bulb_c - leaving.dry_bulb_c
    if abs(change) < 0.5 or change * sensible_w < 0:
        raise Inconsistent(f"The air changes by {change:.2f} K, which cannot carry {sensible_w:.4g} W.")
    mass = sensible_w / (1000 * (1.006 + 1.86 * leaving.humidity_ratio) * change)
    return mass * 3600 * entering.volume_m3_kg


def coefficient_of_performance(capacity_w: float, electric_w: float) -> float:
    """COP = capacity/electric power, both 1 W to 10 MW. Source: COP_SOURCE.

    Takes ``capacity_w`` and ``electric_w`` 1 to 1e7.
    """
    within("capacity", capacity_w, 1, 1e7, "W")
    within("electric power", electric_w, 1, 1e7, "W")
    return capacity_w / electric_w


class Split(NamedTuple):
    """Expected temperature split in K, the coil's mean surface temperature in °C and whether it is dry."""

    split_k: float
    coil_c: float
    dry: bool


def expected_split(entering: Air, capacity_w: float, airflow_m3_h: float) -> Split:
    """Return less supply temperature that ``capacity_w`` (100 W to 1 MW) gives ``airflow_m3_h`` of ``entering`` air.

    The enthalpy drop q = Q/m fixes the saturated coil surface: (1 - bypass)·(h1 - h_coil) = q; the air leaves on the
    straight line to it. With a coil above the dew point no water falls out and the split is q/cp. Source: SPLIT_SOURCE.
    Raises Inconsistent when the coil would have to be below -20 °C.
    Takes ``capacity_w`` 100 to 1e6, ``airflow_m3_h`` 1 to 1e5.
    """
    within("capacity", capacity_w, 100, 1e6, "W")
    drop = capacity_w / 1000 / dry_air_kg_s(airflow_m3_h, entering)
    dry_split = drop / (1.006 + 1.86 * entering.humidity_ratio)
    surface = entering.enthalpy_kj_kg - drop / (1 - BYPASS)
    low, high = -20.0, entering.dry_bulb_c

    if entering.dry_bulb_c - dry_split / (1 - BYPASS) >= entering.dew_point_c:
        return Split(dry_split, entering.dry_bulb_c - dry_split / (1 - BYPASS), True)
    if entering.dry_bulb_c <= low or saturated_enthalpy_kj_kg(low, entering.pressure_kpa) > surface:
        raise Inconsistent(
            f"{shown('power', capacity_w)} from {shown('airflow', airflow_m3_h)} would need a coil below "
            f"{shown('temperature', low)}: look at the airflow."
        )
    coil = last_where(lambda c: saturated_enthalpy_kj_kg(c, entering.pressure_kpa) < surface, low, high)
    return Split((1 - BYPASS) * (entering.dry_bulb_c - coil), coil, False)


def judge_split(
    dry_bulb: Metered,
    second: Metered,
    supply: Metered,
    capacity_w: float,
    airflow_m3_h: float,
    state: Callable[[float, float], Air],
    tolerance_k: float = SPLIT_TOLERANCE_K,
) -> Found:
    """Judge return less supply (°C, supply -20 to 60) against what nominal capacity and airflow give: low, ok or high.

    ``state`` makes the return air of its dry bulb and its second reading (wet bulb, humidity or dew point), so that
    both enter the uncertainty, and one thermometer's common error cancels. low: little capacity, high: little airflow.
    Values: split, expected (K). Source: SPLIT_SOURCE.
    """
    within("supply temperature", supply.value, -20, 60, "°C")
    within("tolerance of the split", tolerance_k, 0.1, 20, "K")

    def beyond(dry_c: float, other: float, supply_c: float) -> float:
        return dry_c - supply_c - expected_split(state(dry_c, other), capacity_w, airflow_m3_h).split_k

    value = beyond(dry_bulb.value, second.value, supply.value)
    against = judged(value, propagated(beyond, (dry_bulb, second, supply)), -tolerance_k, tolerance_k)
    split = dry_bulb.value - supply.value
    return Found(sided(against), ("ok",), values={"split": split, "expected": split - value}, against=against)
