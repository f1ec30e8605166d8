"""The general proof: what closes every repair, whatever was at fault. The knowledge names it, not the code."""

from __future__ import annotations

from collections.abc import Iterable

from assistant.library.loader import Library


def general_proof(library: Library, symptoms: Iterable[str], told: Iterable[tuple[str, str]] = ()) -> tuple[str, ...]:
    """The checks that close a repair after these symptoms, in the knowledge's order.

    It is proved in the one mode that the weather allows, else in the mode that an answer named (``told``: check and
    outcome, the newest last), else in heating after a complaint about heating, else in cooling.
    """
    answers = [library.checks[check].outcomes.get(outcome) for check, outcome in told if check in library.checks]
    allowed = [answer.only for answer in answers if answer is not None and answer.only is not None]
    named = [answer.mode for answer in answers if answer is not None and answer.mode is not None]
    shown = {library.symptoms[symptom].mode for symptom in symptoms if symptom in library.symptoms}
    mode = (allowed or named or ["heating" if "heating" in shown else "cooling"])[-1]
    return tuple(check.id for check in library.checks.values() if check.closes in ("any", mode))
