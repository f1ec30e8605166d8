"""The temperature at which water boils, or ice goes straight to vapour, at the vacuum read. Pa, °C."""

from __future__ import annotations

import math

from assistant.calculations.air import saturated_vapour_pa
from assistant.calculations.errors import within

WATER_SOURCE = "vapour pressure over water and ice, Hyland and Wexler (1983) as in ASHRAE Fundamentals, by PsychroLib"


def boils_at_c(vacuum_pa: float) -> float:
    """Temperature at which water boils (below 0 °C: ice sublimes) at ``vacuum_pa`` (2 to 110 000 Pa absolute).

    A circuit colder than this cannot be dried by this vacuum. Source: WATER_SOURCE.
    """
    target = math.log(within("vacuum", vacuum_pa, 2, 110_000, "Pa"))
    low, high = -70.0, 110.0
    for _ in range(60):
        middle = (low + high) / 2
        if math.log(saturated_vapour_pa(middle)) < target:
            low = middle
        else:
            high = middle
    return (low + high) / 2
