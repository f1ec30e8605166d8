"""The closed words and bounded texts that everything in ``knowledge/`` is written with."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

#: What a step needs of the power; see ``dialogue.energy`` for how the state of each place is reached.
Energy = Literal["any", "live", "isolated", "proved-dead"]
Verdict = Literal["pass", "fail", "undecided", "noted"]
#: Where the technician stands for a step.
Where = Literal["indoor", "outdoor", "line", "supply", "anywhere"]
Slug = Annotated[str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$")]
#: Spoken prose: one or two short sentences. The library check counts its seconds.
Spoken = Annotated[str, Field(min_length=3, max_length=240)]
Probability = Annotated[float, Field(gt=0, lt=1)]

#: What hands, probes or tools come to in a step.
Touched = Literal[
    "nothing",
    "cover",
    "board",
    "terminals",
    "conductor-ends",
    "plug",
    "motor",
    "refrigerant-circuit",
    "refrigerant-joint",
    "flame",
    "water",
    "height",
    "moving-parts",
    "hot",
    "sharp",
    "heavy",
    "live-probe",
]
#: Where it is touched: the places that have an energy state of their own. ``supply``: disconnect and panel; ``signal``:
#: the signal terminals and conductors at the units; ``line``: joints and boxes along the cable and the pipes between
#: the units; ``anywhere``: both units.
At = Literal["supply", "outdoor", "indoor", "signal", "line", "anywhere"]
#: What the refrigerant circuit holds.
Circuit = Literal["charged", "recovered", "opened", "purged", "under-nitrogen", "evacuated"]
#: What the dialogue calls upon a check for, whatever the knowledge calls it.
Does = Literal["lock-out", "restore", "put-all-back", "lower-bus", "recover", "purge", "tell-circuit", "prove-tight"]
#: What of a profile names where probes go: the signal line's terminals, or the plug of a sensor.
Pins = Literal["signal", "room", "pipe", "outdoor", "coil", "discharge", "suction"]
#: What a hazard bars: closing the power, a flame, a hand inside, staying there.
Bar = Literal["power", "flame", "touch", "stay"]
#: What a check may measure of the unit's plate, in m.
MeasuredField = Literal["pipe_m", "lift_m"]
Chance = Annotated[float, Field(ge=0, le=1)]
Finite = Annotated[float, Field(allow_inf_nan=False)]
#: How wrong a meter may be: never less than nothing.
Accuracy = Annotated[float, Field(ge=0, allow_inf_nan=False)]
