"""Makes the shipped saturation tables from CoolProp: ``python -m assistant.calculations.make_saturation_tables``.

The tables are made ahead and shipped, not cached on the user's machine, because: the assistant must work offline from
its first start, CoolProp takes seconds to load, the same table everywhere gives the same answers in a replay, and a
changed table shows in review. CoolProp is needed only here and in the tests.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from pathlib import Path

from assistant.calculations.refrigerants import REFRIGERANTS

FOLDER = Path(__file__).parent / "saturation_tables"
COLDEST_C = -70
#: The last kelvins below the critical point bend more and get four rows a kelvin.
FINE_K = 5
#: Highest whole degree below the critical point that CoolProp solves on both sides.
HOTTEST_C = {"R410A": 71, "R32": 77, "R454B": 70, "R22": 95, "R407C": 86, "R134a": 100, "R290": 96}
#: Only CoolProp's predefined mixture knows R454B.
COOLPROP_NAMES = {"R454B": "R454B.mix"}
ZERO_C_K = 273.15


def solved_kpa(name: str, temperature_c: float, quality: int) -> float | None:
    """CoolProp's saturation pressure in kPa (quality 0 bubble, 1 dew), or None where its solver finds none."""
    from CoolProp.CoolProp import PropsSI

    try:
        pascal = PropsSI("P", "T", temperature_c + ZERO_C_K, "Q", quality, COOLPROP_NAMES.get(name, name))
    except ValueError:
        return None
    return float(pascal) / 1000 if math.isfinite(pascal) else None


def solved_density(name: str, temperature_c: float, quality: int) -> float | None:
    """CoolProp's density in kg/m³ of saturated liquid (quality 0) or vapour (1), or None as above."""
    from CoolProp.CoolProp import PropsSI

    try:
        density = PropsSI("D", "T", temperature_c + ZERO_C_K, "Q", quality, COOLPROP_NAMES.get(name, name))
    except ValueError:
        return None
    return float(density) if math.isfinite(density) else None


def rows_c(name: str) -> list[float]:
    """The temperatures of the table: one a kelvin, four a kelvin over the last ``FINE_K``."""
    fine_from = HOTTEST_C[name] - FINE_K
    return [float(t) for t in range(COLDEST_C, fine_from)] + [fine_from + i / 4 for i in range(4 * FINE_K + 1)]


def column(
    name: str, quality: int, solve: Callable[[str, float, int], float | None]
) -> tuple[list[float], list[float]]:
    """One value for each of ``rows_c``, and the temperatures that had to be filled.

    CoolProp's mixture solver has gaps a few degrees wide. There the logarithm is the cubic of 1/T through the two
    solved points on either side (the tests measure what that costs on a fluid without gaps).
    """
    span = rows_c(name)
    solved = {t: value for t in span if (value := solve(name, t, quality)) is not None}
    filled = [t for t in span if t not in solved]
    return [solved[t] if t in solved else across_gap_kpa(solved, t) for t in span], filled


def across_gap_kpa(solved: dict[float, float], temperature_c: float) -> float:
    """The cubic of 1/T in the logarithm through the two solved neighbours on each side of ``temperature_c``."""
    below = sorted(t for t in solved if t < temperature_c)[-2:]
    above = sorted(t for t in solved if t > temperature_c)[:2]
    points = [(1 / (t + ZERO_C_K), math.log(solved[t])) for t in [*below, *above]]
    x = 1 / (temperature_c + ZERO_C_K)
    total = 0.0
    for i, (xi, yi) in enumerate(points):
        total += yi * math.prod((x - xj) / (xi - xj) for j, (xj, _) in enumerate(points) if j != i)
    return math.exp(total)


def table(name: str) -> dict[str, object]:
    """The table of one refrigerant, ready to be written."""
    from CoolProp import __version__

    bubble, bubble_filled = column(name, 0, solved_kpa)
    dew, dew_filled = column(name, 1, solved_kpa)
    liquid, vapour = column(name, 0, solved_density)[0], column(name, 1, solved_density)[0]
    return {
        "refrigerant": name,
        "made_with": f"CoolProp {__version__}",
        "equation": REFRIGERANTS[name].equation,
        "filled_c": {"bubble": bubble_filled, "dew": dew_filled},
        "temperature_c": rows_c(name),
        "bubble_kpa": [float(f"{p:.8g}") for p in bubble],
        "dew_kpa": [float(f"{p:.8g}") for p in dew],
        "liquid_kg_m3": [float(f"{d:.6g}") for d in liquid],
        "vapour_kg_m3": [float(f"{d:.6g}") for d in vapour],
    }


def main() -> int:
    """Write every table and say what was filled."""
    FOLDER.mkdir(exist_ok=True)
    for name in REFRIGERANTS:
        made = table(name)
        (FOLDER / f"{name}.json").write_text(json.dumps(made) + "\n", encoding="utf-8")
        print(f"{name}: {COLDEST_C} to {HOTTEST_C[name]} °C, filled {made['filled_c']}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
