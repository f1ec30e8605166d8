"""How much a recovery cylinder may hold. kg, °C."""

from __future__ import annotations

from assistant.calculations.errors import Inconsistent, within
from assistant.calculations.saturation import density_kg_m3
from assistant.calculations.units import shown

CYLINDER_SOURCE = (
    "80 % of water capacity times specific gravity at 77 °F (25 °C): AHRI Guideline K (reprint in a trade paper); "
    "the limit stamped on the cylinder and the local rules come first"
)
FILL_SHARE = 0.8
#: Density of water at 25 °C in kg/m³, the reference of specific gravity (CRC Handbook 997.05).
WATER_KG_M3 = 997.05
#: Temperature at which the specific gravity is taken, and the warmest that a cylinder should see.
FILL_C, WARMEST_C = 25.0, 55.0


def specific_gravity(name: str, temperature_c: float = FILL_C) -> float:
    """Density of the saturated liquid over that of water at 25 °C (1). Raises OutOfRange outside the table."""
    return density_kg_m3(name, temperature_c) / WATER_KG_M3


def largest_fill_kg(name: str, water_capacity_kg: float) -> float:
    """Refrigerant in kg that a cylinder of ``water_capacity_kg`` (0.5 to 2000) may hold. Source: CYLINDER_SOURCE."""
    within("water capacity", water_capacity_kg, 0.5, 2000, "kg")
    return FILL_SHARE * water_capacity_kg * specific_gravity(name)


def room_left_kg(name: str, water_capacity_kg: float, tare_kg: float, gross_kg: float) -> float:
    """What may still go in, kg (negative: overfilled): largest fill plus tare (0.1 to 2000) less the scale's weight.

    ``gross_kg`` 0.1 to 4000. Raises Inconsistent when it weighs less than empty.
    Takes ``water_capacity_kg`` 0.5 to 2000.
    """
    within("tare weight", tare_kg, 0.1, 2000, "kg")
    within("weight on the scale", gross_kg, 0.1, 4000, "kg")
    if gross_kg < tare_kg * 0.99:
        raise Inconsistent(
            f"The cylinder weighs {shown('mass', gross_kg)}, less than its tare of {shown('mass', tare_kg)}."
        )
    return largest_fill_kg(name, water_capacity_kg) + tare_kg - gross_kg


def liquid_share(name: str, mass_kg: float, water_capacity_kg: float, temperature_c: float = WARMEST_C) -> float:
    """Share of the cylinder's volume that ``mass_kg`` (0 to 2000) fills as liquid at ``temperature_c`` (1: full).

    Above 1 it is full of liquid and bursts its relief. Source: saturation table.
    Takes ``water_capacity_kg`` 0.5 to 2000.
    """
    within("refrigerant in the cylinder", mass_kg, 0, 2000, "kg")
    within("water capacity", water_capacity_kg, 0.5, 2000, "kg")
    return mass_kg / density_kg_m3(name, temperature_c) * WATER_KG_M3 / water_capacity_kg
