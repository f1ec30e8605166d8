"""Refrigerant lines: what they hold, what they drop, what a lift takes off, and the length a unit allows.

Inside diameters mm, lengths m, pressures kPa, temperatures °C of the saturated refrigerant, mass flow kg/h.
"""

from __future__ import annotations

import math

from assistant.calculations.errors import Inconsistent, UnknownName, within
from assistant.calculations.found import Found
from assistant.calculations.refrigerants import refrigerant
from assistant.calculations.saturation import bubble_line, bubble_temperature_c, density_kg_m3
from assistant.calculations.uncertainty import Metered, judged

GRAVITY = 9.80665  # m/s², standard acceleration (CGPM 1901)
LIFT_SOURCE = "Δp = ρ·g·h of the saturated liquid (hydrostatics)"
FRICTION_SOURCE = (
    "Darcy-Weisbach, friction factor by Haaland (J. Fluids Eng. 105, 1983), drawn tube 1.5 µm rough; fittings by their "
    "equivalent length; viscosity by CoolProp at 35 °C (liquid) and 10 °C (vapour)"
)
HOLDS_SOURCE = "ρ·π·d²/4 of the saturated liquid; the maker's grams per metre come first"

#: Dynamic viscosity of saturated liquid at 35 °C and vapour at 10 °C in Pa·s: CoolProp 8.0.0; R454B by mass share of
#: the logarithms of R32 and R1234yf (from memory). Off by 20 %, the drop is off by 4 %.
_VISCOSITY = {
    "R410A": (1.04e-4, 1.27e-5),
    "R32": (0.98e-4, 1.29e-5),
    "R454B": (1.10e-4, 1.27e-5),
    "R22": (1.55e-4, 1.24e-5),
    "R407C": (1.34e-4, 1.17e-5),
    "R134a": (1.72e-4, 1.11e-5),
    "R290": (0.87e-4, 0.78e-5),
}
#: Roughness of drawn copper tube in mm (Moody 1944, drawn tubing).
ROUGHNESS_MM = 0.0015
#: Outside and inside diameter in mm of soft copper tube by its size in inch: ASTM B280, walls 0.030 to 0.045 inch.
TUBES_MM: dict[str, tuple[float, float]] = {
    "1/4": (6.35, 4.83),
    "5/16": (7.94, 6.31),
    "3/8": (9.53, 7.90),
    "1/2": (12.70, 11.07),
    "5/8": (15.88, 13.84),
    "3/4": (19.05, 16.92),
    "7/8": (22.23, 19.94),
}
TUBE_SOURCE = "ASTM B280, soft copper tube (walls from memory)"


def inside_mm(size: str) -> float:
    """Inside diameter of a tube of ``size`` inch outside (one of ``TUBES_MM``). Source: TUBE_SOURCE."""
    if size not in TUBES_MM:
        raise UnknownName("tube size", size, TUBES_MM)
    return TUBES_MM[size][1]


def _area_m2(bore_mm: float) -> float:
    return math.pi / 4 * (within("inside diameter", bore_mm, 1, 100, "mm") / 1000) ** 2


def holds_g_per_m(name: str, bore_mm: float, temperature_c: float = 40.0) -> float:
    """Grams of liquid in a metre of full liquid line, 1 to 100 mm bore. Source: HOLDS_SOURCE."""
    return 1000 * density_kg_m3(name, temperature_c) * _area_m2(bore_mm)


def lift_kpa(name: str, height_m: float, temperature_c: float = 40.0) -> float:
    """Pressure that liquid rising ``height_m`` (-100 to 100; negative: falling) loses, kPa. Source: LIFT_SOURCE."""
    within("height", height_m, -100, 100, "m")
    return density_kg_m3(name, temperature_c) * GRAVITY * height_m / 1000


def subcooling_needed_k(name: str, loss_kpa: float, condensing_c: float) -> float:
    """Kelvin of subcooling that keep liquid from boiling after a loss of ``loss_kpa`` (-2000 to 2000).

    Raises OutOfRange outside the table.
    """
    within("pressure loss", loss_kpa, -2000, 2000, "kPa")
    start = bubble_line(name).pressure_kpa(condensing_c)
    return condensing_c - bubble_temperature_c(name, start - loss_kpa)


def friction_factor(reynolds: float, relative_roughness: float) -> float:
    """Darcy friction factor: 64/Re under 2300, Haaland above. Re 1 to 1e9, roughness over bore 0 to 0.1."""
    within("Reynolds number", reynolds, 1, 1e9, "1")
    within("relative roughness", relative_roughness, 0, 0.1, "1")
    if reynolds < 2300:
        return 64 / reynolds
    return float((-1.8 * math.log10((relative_roughness / 3.7) ** 1.11 + 6.9 / reynolds)) ** -2)


def friction_kpa(
    name: str, mass_flow_kg_h: float, bore_mm: float, length_m: float, temperature_c: float, phase: str = "liquid"
) -> float:
    """Pressure drop in kPa of ``phase`` in a straight line: f·L/d·ρ·v²/2. Source: FRICTION_SOURCE.

    ``mass_flow_kg_h`` 0.1 to 10 000, ``bore_mm`` 1 to 100, ``length_m`` 0 to 500 (with the equivalent of fittings).
    """
    within("mass flow", mass_flow_kg_h, 0.1, 1e4, "kg/h")
    within("line length", length_m, 0, 500, "m")
    area, density = _area_m2(bore_mm), density_kg_m3(name, temperature_c, phase)
    flow = mass_flow_kg_h / 3600
    viscosity = _VISCOSITY[refrigerant(name).name][0 if phase == "liquid" else 1]
    speed = flow / (density * area)
    reynolds = density * speed * bore_mm / 1000 / viscosity
    factor = friction_factor(reynolds, ROUGHNESS_MM / bore_mm)
    return factor * length_m / (bore_mm / 1000) * density * speed**2 / 2 / 1000


def judge_line(
    length: Metered | None = None,
    height: Metered | None = None,
    longest_m: float | None = None,
    greatest_m: float | None = None,
) -> Found:
    """Length and height of the lines (m) against what the unit allows: inside or beyond.

    What was not measured, or has no limit, is passed over. Values: length, height (m). Raises Inconsistent when nothing
    is left to judge.
    """
    against = None
    beyond = 0.0
    pairs = ((length, longest_m, "line length"), (height, greatest_m, "height between the units"))
    for reading, limit, name in pairs:
        if reading is not None:
            within(name, reading.value, 0, 1000, "m")
        if reading is None or limit is None:
            continue
        within(f"largest {name}", limit, 0, 1000, "m")
        one = judged(reading.value, reading.expanded, None, limit)
        beyond = 1 - (1 - beyond) * (1 - one.chance_above)
        against = one if against is None or one.chance_above > against.chance_above else against
    if against is None:
        raise Inconsistent("A length or a height is needed, with what the unit allows.")
    values = {"length": length.value if length else None, "height": height.value if height else None}
    return Found({"inside": 1 - beyond, "beyond": beyond}, ("inside",), values=values, against=against)
