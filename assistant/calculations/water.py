"""The temperature at which water boils, or ice goes straight to vapour, at the vacuum read. Pa, °C."""

from __future__ import annotations

import math

from assistant.calculations.air import VAPOUR_C, saturated_vapour_pa
from assistant.calculations.errors import within
from assistant.calculations.halving import last_where

WATER_SOURCE = "vapour pressure over water and ice, Hyland and Wexler (1983) as in ASHRAE Fundamentals, by PsychroLib"


def boils_at_c(vacuum_pa: float) -> float:
    """Temperature at which water boils (below 0 °C: ice sublimes) at ``vacuum_pa`` (2 to 110 000 Pa absolute).

    A circuit colder than this cannot be dried by this vacuum. Source: WATER_SOURCE.
    """
    target = math.log(within("vacuum", vacuum_pa, 2, 110_000, "Pa"))
    return last_where(lambda celsius: math.log(saturated_vapour_pa(celsius)) < target, *VAPOUR_C)
