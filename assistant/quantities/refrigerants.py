"""The refrigerants by name, and what each is called. What they are made of stands in the calculations.

Names: ISO 817 without hyphen.
"""

from __future__ import annotations

from typing import Literal

RefrigerantName = Literal["R32", "R410A", "R454B", "R22", "R407C", "R134a", "R290"]

#: By name: what a technician calls it, the first also what it is called in a reply.
REFRIGERANTS: dict[RefrigerantName, tuple[str, ...]] = {
    "R32": ("r thirty two", "thirty two"),
    "R410A": ("r four ten a", "r four ten", "four ten a", "four ten"),
    "R454B": ("r four fifty four b", "r four fifty four", "four fifty four b", "four fifty four"),
    "R22": ("r twenty two", "twenty two"),
    "R407C": ("r four oh seven c", "r four oh seven", "four oh seven c", "four oh seven"),
    "R134a": ("r one thirty four a", "r one thirty four", "one thirty four a", "one thirty four"),
    "R290": ("r two ninety", "two ninety", "propane"),
}
