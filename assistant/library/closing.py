"""The general proof: what closes every repair, whatever was at fault. The knowledge names it, not the code."""

from __future__ import annotations

from collections.abc import Iterable

from assistant.library.loader import Library


def general_proof(library: Library, symptoms: Iterable[str]) -> tuple[str, ...]:
    """The checks that close a repair after these symptoms, in the knowledge's order.

    A complaint about heating is proved in heating, every other one in cooling.
    """
    shown = {library.symptoms[symptom].mode for symptom in symptoms if symptom in library.symptoms}
    mode = "heating" if "heating" in shown else "cooling"
    return tuple(check.id for check in library.checks.values() if check.closes in ("any", mode))
