"""Makes the shipped enthalpy tables from CoolProp: ``python -m assistant.calculations.make_enthalpy_tables``.

Enthalpies of saturated liquid and vapour and their specific heats, a row each two kelvins, for pictures of the
pressure-enthalpy diagram; shipped for the reasons that ``make_saturation_tables`` gives.
"""

from __future__ import annotations

import json
import math
from pathlib import Path

from assistant.calculations.make_saturation_tables import COOLPROP_NAMES, HOTTEST_C, ZERO_C_K
from assistant.calculations.refrigerants import REFRIGERANTS

FOLDER = Path(__file__).parent / "enthalpy_tables"
COLDEST_C, STEP_K = -50, 2
#: How far from saturation the mean specific heats reach (``enthalpy.py`` goes by the same).
SUBCOOLED_K, SUPERHEATED_K = 15.0, 20.0
#: The solver's scale of a mixture or pseudo-pure fluid is its own; all are shifted to this at 0 °C, saturated liquid
#: (kJ/kg, the usual scale of the International Institute of Refrigeration, from memory).
LIQUID_AT_ZERO = 200.0


def solved(name: str, what: str, temperature_c: float, quality: int) -> float | None:
    """CoolProp's ``what`` in kJ/kg or kJ/(kg K), or None where its solver finds none."""
    from CoolProp.CoolProp import PropsSI

    try:
        value = PropsSI(what, "T", temperature_c + ZERO_C_K, "Q", quality, COOLPROP_NAMES.get(name, name))
    except ValueError:
        return None
    return float(value) / 1000 if math.isfinite(value) else None


def mean_heats(name: str, temperature_c: float, liquid: float, vapour: float) -> list[float] | None:
    """Mean specific heats over ``SUBCOOLED_K`` below and ``SUPERHEATED_K`` above saturation, kJ/(kg K)."""
    from CoolProp.CoolProp import PropsSI

    fluid, kelvin = COOLPROP_NAMES.get(name, name), temperature_c + ZERO_C_K
    try:
        bubble, dew = (PropsSI("P", "T", kelvin, "Q", side, fluid) for side in (0, 1))
        cold = PropsSI("H", "T", kelvin - SUBCOOLED_K, "P", bubble, fluid) / 1000
        warm = PropsSI("H", "T", kelvin + SUPERHEATED_K, "P", dew, fluid) / 1000
    except ValueError:
        return None
    heats = [(liquid - cold) / SUBCOOLED_K, (warm - vapour) / SUPERHEATED_K]
    return heats if all(math.isfinite(heat) and heat > 0 for heat in heats) else None


def table(name: str) -> dict[str, object]:
    """The table of one refrigerant; a row that the solver does not find on both sides is left out."""
    from CoolProp import __version__

    zero = solved(name, "H", 0.0, 0)
    assert zero is not None
    rows = []
    for t in range(COLDEST_C, HOTTEST_C[name] + 1, STEP_K):
        row = [solved(name, what, t, side) for what in ("H", "C") for side in (0, 1)]
        if None not in row:
            liquid, vapour, *heats = (value for value in row if value is not None)
            shift = LIQUID_AT_ZERO - zero
            heats += mean_heats(name, t, liquid, vapour) or heats
            rows.append([t, *(round(v, 3) for v in (liquid + shift, vapour + shift)), *(round(v, 4) for v in heats)])
    return {
        "refrigerant": name,
        "made_with": f"CoolProp {__version__}",
        "equation": REFRIGERANTS[name].equation,
        "columns": [
            *("temperature_c", "liquid_kj_kg", "vapour_kj_kg", "liquid_kj_kg_k", "vapour_kj_kg_k"),
            *("liquid_mean_kj_kg_k", "vapour_mean_kj_kg_k"),
        ],
        "rows": rows,
    }


def main() -> int:
    """Write every table."""
    FOLDER.mkdir(exist_ok=True)
    for name in REFRIGERANTS:
        made = table(name)
        (FOLDER / f"{name}.json").write_text(json.dumps(made) + "\n", encoding="utf-8")
        print(f"{name}: {len(made['rows'])} rows")  # type: ignore[arg-type]
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
