"""The general proof: what closes every repair, whatever was at fault. The knowledge names it, not the code."""

from __future__ import annotations

from collections.abc import Iterable

from assistant.library.loader import Library


def general_proof(library: Library, symptoms: Iterable[str], told: Iterable[tuple[str, str]] = ()) -> tuple[str, ...]:
    """The checks that close a repair after these symptoms, in the knowledge's order.

    It is proved in the mode that an answer named (``told``: check and outcome, the newest last), else in heating after
    a complaint about heating, else in cooling.
    """
    named = [library.checks[check].outcomes[outcome].mode for check, outcome in told if _names(library, check, outcome)]
    shown = {library.symptoms[symptom].mode for symptom in symptoms if symptom in library.symptoms}
    mode = named[-1] if named else "heating" if "heating" in shown else "cooling"
    return tuple(check.id for check in library.checks.values() if check.closes in ("any", mode))


def _names(library: Library, check: str, outcome: str) -> bool:
    known = library.checks.get(check)
    return known is not None and outcome in known.outcomes and known.outcomes[outcome].mode is not None
