"""Motor windings by resistance: phases, imbalance, temperature.

Resistances in ohm between terminals (u-v, v-w, w-u) or per phase; temperatures in °C.
"""

from __future__ import annotations

from typing import Literal

from assistant.calculations.departure import largest_departure_percent
from assistant.calculations.errors import Inconsistent, UnknownName, within

Metal = Literal["copper", "aluminium"]
Connection = Literal["star", "delta"]

#: Temperature of vanishing resistance below 0 °C. 234.5 copper, 228 aluminium: resistance tables of the
#: handbooks, IEEE 112; IEC 60034-1 writes 235 and 225. All from memory: its clause could not be looked up.
INTERCEPT_C: dict[Metal, float] = {"copper": 234.5, "aluminium": 228.0}
INTERCEPT_SOURCE = (
    "R2/R1 = (k+t2)/(k+t1), k = 234.5 copper, 228 aluminium (IEEE 112, handbook; 235/225 in IEC 60034-1; from memory)"
)
IMBALANCE_SOURCE = "largest departure from the mean, as NEMA MG-1 defines for voltages"

LEAST_OHM, MOST_OHM = 1e-4, 1e6


def _ohm(what: str, value: float) -> float:
    return within(what, value, LEAST_OHM, MOST_OHM, "ohm")


def _metal_intercept(metal: Metal) -> float:
    if metal not in INTERCEPT_C:
        raise UnknownName("metal", metal, INTERCEPT_C)
    return INTERCEPT_C[metal]


def without_leads_ohm(reading_ohm: float, lead_ohm: float) -> float:
    """The winding alone: reading less what the meter shows with its leads shorted (0 to 10 ohm).

    Raises Inconsistent when the leads are as much as the reading: short the leads and zero the meter again.
    Takes ``reading_ohm`` 1e-4 to 1e6.
    """
    _ohm("winding reading", reading_ohm)
    within("lead resistance", lead_ohm, 0, 10, "ohm")
    rest = reading_ohm - lead_ohm
    if rest < LEAST_OHM:
        raise Inconsistent(
            f"The reading of {reading_ohm:.4g} ohm leaves nothing after {lead_ohm:.4g} ohm of leads: "
            "the pair is shorted, or the leads must be measured again."
        )
    return rest


def phases_ohm(u_v: float, v_w: float, w_u: float, connection: Connection) -> tuple[float, float, float]:
    """Phase resistances from the three terminal pairs, in ohm.

    star: (U, V, W), R_U = (UV + WU - VW)/2, from R_UV = R_U + R_V. delta: (U-V, V-W, W-U) by the star-delta
    transformation (A. E. Kennelly, Electrical World, 1899). Raises Inconsistent when one pair reads as much as the
    two others together, which no three windings can.
    Takes ``u_v``, ``v_w`` and ``w_u`` 1e-4 to 1e6.
    """
    for name, value in (("U to V", u_v), ("V to W", v_w), ("W to U", w_u)):
        _ohm(f"winding {name}", value)
    u, v, w = (u_v + w_u - v_w) / 2, (u_v + v_w - w_u) / 2, (v_w + w_u - u_v) / 2
    if min(u, v, w) < 1e-9 * max(u, v, w):
        raise Inconsistent(
            f"Pairs of {u_v:.4g}, {v_w:.4g} and {w_u:.4g} ohm cannot be three windings: one reads as much as the "
            "two others together; measure again, or a winding is open or shorted."
        )
    if connection == "star":
        return u, v, w
    product = u * v + v * w + w * u
    return product / w, product / u, product / v


def pairs_ohm(first: float, second: float, third: float, connection: Connection) -> tuple[float, float, float]:
    """Terminal pairs (U-V, V-W, W-U) from phases: star (U, V, W) or delta (U-V, V-W, W-U), in ohm.

    The inverse of ``phases_ohm``: series in star, one phase beside the two others in delta.
    Takes ``first``, ``second`` and ``third`` 1e-4 to 1e6.
    """
    for value in (first, second, third):
        _ohm("winding phase", value)
    if connection == "star":
        return first + second, second + third, third + first
    ring = first + second + third
    return first * (second + third) / ring, second * (third + first) / ring, third * (first + second) / ring


def imbalance_percent(u_v: float, v_w: float, w_u: float) -> float:
    """100·max|R - mean|/mean of the three pairs, in %, 0 to 200. Source: see IMBALANCE_SOURCE.

    Takes ``u_v``, ``v_w`` and ``w_u`` 1e-4 to 1e6.
    """
    values = (u_v, v_w, w_u)
    for value in values:
        _ohm("winding", value)
    return largest_departure_percent(values)


def at_temperature_ohm(resistance_ohm: float, from_c: float, to_c: float, metal: Metal = "copper") -> float:
    """Resistance at ``to_c`` of a winding that has ``resistance_ohm`` at ``from_c`` (-60 to 250 °C).

    Source: INTERCEPT_SOURCE.
    Takes ``resistance_ohm`` 1e-4 to 1e6.
    """
    _ohm("winding resistance", resistance_ohm)
    for value in (from_c, to_c):
        within("winding temperature", value, -60, 250, "°C")
    k = _metal_intercept(metal)
    return resistance_ohm * (k + to_c) / (k + from_c)


def temperature_from_resistance_c(
    resistance_ohm: float, reference_ohm: float, reference_c: float, metal: Metal = "copper"
) -> float:
    """Mean winding temperature in °C: t2 = (R2/R1)·(k + t1) - k. Source: INTERCEPT_SOURCE.

    Raises OutOfRange when the result leaves -60 to 250 °C (wrong winding, or a bad joint in the path).
    """
    _ohm("winding resistance", resistance_ohm)
    _ohm("reference resistance", reference_ohm)
    within("reference temperature", reference_c, -60, 250, "°C")
    k = _metal_intercept(metal)
    return within("winding temperature", resistance_ohm / reference_ohm * (k + reference_c) - k, -60, 250, "°C")


def temperature_rise_k(
    hot_ohm: float, cold_ohm: float, cold_c: float, ambient_c: float, metal: Metal = "copper"
) -> float:
    """Rise over the ambient by resistance: Δt = (R2/R1)·(k + t1) - k - ta. Source: INTERCEPT_SOURCE.

    Takes ``hot_ohm`` and ``cold_ohm`` 1e-4 to 1e6, ``cold_c`` -60 to 250, ``ambient_c`` -60 to 100.
    """
    within("ambient temperature", ambient_c, -60, 100, "°C")
    return temperature_from_resistance_c(hot_ohm, cold_ohm, cold_c, metal) - ambient_c


def conductor_temperature_coefficient_per_k(metal: Metal = "copper", at_c: float = 20.0) -> float:
    """α = 1/(k + t) at ``at_c`` (-60 to 250 °C). Source: INTERCEPT_SOURCE."""
    within("temperature", at_c, -60, 250, "°C")
    return 1 / (_metal_intercept(metal) + at_c)
