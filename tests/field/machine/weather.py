"""The weather of a visit and what the customer wants of the unit in it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Mode = Literal["cooling", "heating"]


@dataclass(frozen=True)
class Weather:
    """Outdoor air in the shade and the room, degC; relative humidity outdoors, share; the mode that is wanted."""

    outdoor_c: float
    indoor_c: float
    humidity: float
    wanted: Mode

    @property
    def frost(self) -> bool:
        """Whether a coil in heating gathers frost: near freezing, with water in the air."""
        return -12 < self.outdoor_c < 6.5
