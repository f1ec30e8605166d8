"""The plate of a unit: what is asked once, kept, and corrected later. A unit without a profile has one too."""

from __future__ import annotations

import re
from typing import Literal

from assistant.model import Model
from assistant.quantities.refrigerants import RefrigerantName
from assistant.quantities.supplies import SupplySystem

#: What the plate interview asks for, in this order; zones and their names come last.
Field = Literal[
    "make", "serial", "supply", "refrigerant", "charge_kg", "breaker_a", "pipe_m", "lift_m", "zones", "name"
]  # fmt: skip
FIELDS: tuple[Field, ...] = (
    "make", "serial", "supply", "refrigerant", "charge_kg", "breaker_a", "pipe_m", "lift_m", "zones", "name",
)  # fmt: skip


class Plate(Model):
    """One unit. Empty words and None: not known; ``unsaid`` names the fields that are not on the plate.

    ``id`` is the unit's within its site, ``name`` what people call it ("the server room"), ``profile`` the id of a unit
    profile where there is one. ``make`` and ``model`` are free words. ``charge_kg`` is the charge that the plate
    prints, in kg; ``breaker_a`` in A; ``pipe_m`` the length of the pipes one way and ``lift_m`` the height between the
    units, in m; ``zones`` the names of the indoor units.
    """

    id: str = ""
    name: str = ""
    profile: str = ""
    make: str = ""
    model: str = ""
    serial: str = ""
    supply: SupplySystem | None = None
    refrigerant: RefrigerantName | None = None
    charge_kg: float | None = None
    breaker_a: float | None = None
    pipe_m: float | None = None
    lift_m: float | None = None
    zones: tuple[str, ...] = ()
    unsaid: tuple[str, ...] = ()

    @property
    def called(self) -> str:
        """The unit in a few words: "Nordwind NW, server room"."""
        what = f"{self.make} {self.model}".strip() or "the unit"
        return f"{what}, {self.name}" if self.name else what

    def lacks(self) -> tuple[Field, ...]:
        """The fields that were neither told nor said not to be there."""
        return tuple(field for field in FIELDS if getattr(self, field) in ("", None, ()) and field not in self.unsaid)

    def without(self, field: str) -> Plate:
        """With ``field`` noted as not to be had."""
        return self.model_copy(update={"unsaid": tuple(dict.fromkeys((*self.unsaid, field)))})


def unit_id(plate: Plate) -> str:
    """An id for a new unit, from its serial number, else from its name, make and model."""
    words = plate.serial or f"{plate.make} {plate.model} {plate.name}"
    return re.sub(r"[^a-z0-9]+", "-", words.lower()).strip("-") or "unit"


def same_unit(one: Plate, other: Plate) -> bool:
    """Whether both are one unit: the same id, or the same serial number."""
    return one.id == other.id or (bool(one.serial) and one.serial.lower() == other.serial.lower())
