"""The refrigerants that the calculations know, with what standards and libraries say of each."""

from __future__ import annotations

from typing import NamedTuple

from assistant.calculations.errors import UnknownName


class Refrigerant(NamedTuple):
    """One refrigerant: ISO 817 ``name`` without hyphen, ``parts`` as mass shares of pure fluids.

    ``lfl_kg_m3`` is the lower flammability limit, None where it does not burn or where sources disagree;
    ``burns`` is its ISO 817 class beyond 1. ``equation`` names the equation of state behind the saturation table, and
    ``table_percent`` how far its pressures may be from published tables, 95 %. ``concentration_kg_m3`` is the most that
    may stand in a room's air for its toxicity and the oxygen it displaces, with the source of that.
    """

    name: str
    parts: tuple[tuple[str, float], ...]
    equation: str
    burns: str = ""
    lfl_kg_m3: float | None = None
    table_percent: float = 0.2
    concentration_kg_m3: float | None = None
    concentration_source: str = ""


ASHRAE_34 = "ASHRAE 34 refrigerant concentration limit (RCL)"

#: Compositions: ISO 817 / ANSI/ASHRAE 34. Flammability limits: IEC 60335-2-40 as reprinted; published values
#: for R454B disagree (0.296 and 0.352 kg/m³), so the unit profile or the user must give it.
REFRIGERANTS: dict[str, Refrigerant] = {
    r.name: r
    for r in (
        Refrigerant(
            "R410A",
            (("R32", 0.5), ("R125", 0.5)),
            "Lemmon, Int. J. Thermophys. 24 (2003), pseudo-pure, ±0.5 %",
            table_percent=0.5,
            concentration_kg_m3=0.42,
            concentration_source=f"{ASHRAE_34}: 26 lb per 1000 ft³ (EN 378-1: 0.44 kg/m³)",
        ),
        Refrigerant(
            "R32",
            (("R32", 1.0),),
            "Tillner-Roth and Yokozeki, J. Phys. Chem. Ref. Data 26 (1997)",
            "2L",
            0.306,
            concentration_kg_m3=0.30,
            concentration_source="EN 378-1:2016, toxicity limit 0.30 kg/m³, read in a maker's summary",
        ),
        Refrigerant(
            "R454B",
            (("R32", 0.689), ("R1234yf", 0.311)),
            # 0.3 to 0.6 °F below a published pressure-temperature chart at the bubble point.
            "Helmholtz mixture R32/R1234yf, binary pair Bell (2023), within 0.6 °F (1.4 % of pressure) of charts",
            "2L",
            table_percent=1.4,
        ),
        Refrigerant(
            "R22",
            (("R22", 1.0),),
            "Kamei and others, Int. J. Thermophys. 16 (1995)",
            concentration_kg_m3=0.21,
            concentration_source=f"{ASHRAE_34}: 13 lb per 1000 ft³, from memory",
        ),
        Refrigerant(
            "R407C",
            (("R32", 0.23), ("R125", 0.25), ("R134a", 0.52)),
            "Lemmon, Int. J. Thermophys. 24 (2003), pseudo-pure, ±0.5 %",
            table_percent=0.5,
            concentration_kg_m3=0.29,
            concentration_source=f"{ASHRAE_34}: 18 lb per 1000 ft³, from memory",
        ),
        Refrigerant(
            "R134a",
            (("R134a", 1.0),),
            "Tillner-Roth and Baehr, J. Phys. Chem. Ref. Data 23 (1994)",
            concentration_kg_m3=0.21,
            concentration_source=f"{ASHRAE_34}: 13 lb per 1000 ft³, from memory",
        ),
        Refrigerant("R290", (("R290", 1.0),), "Lemmon, McLinden and Wagner, J. Chem. Eng. Data 54 (2009)", "3", 0.038),
    )
}

_BY_PLAIN_NAME = {name.lower().removeprefix("r"): name for name in REFRIGERANTS}


def refrigerant(name: str) -> Refrigerant:
    """The refrigerant called ``name`` ("R410A", "R-410A", "r 410a", "410a"). Raises UnknownName."""
    known = REFRIGERANTS.get(name)
    if known is not None:
        return known
    plain = name.lower().replace("-", "").replace(" ", "").removeprefix("r")
    if plain not in _BY_PLAIN_NAME:
        raise UnknownName("refrigerant", name, REFRIGERANTS)
    return REFRIGERANTS[_BY_PLAIN_NAME[plain]]
