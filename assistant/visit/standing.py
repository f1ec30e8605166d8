"""Where a visit stands, in a few words: kept beside its facts so that a list of thousands needs none of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from assistant.job.memory import HazardLeft, Measured, ThingLeft
from assistant.job.plate import Plate
from assistant.model import Model

if TYPE_CHECKING:
    from assistant.dialogue.state import VisitState
    from assistant.library.loader import Library
    from assistant.library.profile import UnitProfile

#: Results told when a visit is taken up again.
_LATEST = 3


class Standing(Model):
    """What the list and a resumed visit tell. ``energy`` is that of the state; ``found`` the latest results, spoken."""

    site: str = ""
    unit: str = ""
    fault: str = ""
    outcome: str = "open"
    energy: str = "live"
    found: tuple[str, ...] = ()
    # What later visits to the same unit remember.
    customer: str = ""
    place: str = ""
    kind: str = ""
    technician: str = ""
    plate: Plate = Plate()
    mended: tuple[str, ...] = ()
    points: tuple[str, ...] = ()
    charged_kg: float = 0.0
    recovered_kg: float = 0.0
    measured: tuple[Measured, ...] = ()
    # How the unit is left, in words and for the next visit.
    left: tuple[str, ...] = ()
    hazards: tuple[HazardLeft, ...] = ()
    off: tuple[ThingLeft, ...] = ()
    circuit: tuple[str, ...] = ("charged",)


def standing(state: VisitState, library: Library) -> Standing:
    """In the words that the record uses too."""
    from assistant.dialogue import facts as f  # a list of thousands reads what was kept, and needs none of it
    from assistant.dialogue.closing import left_as
    from assistant.dialogue.measured import measured
    from assistant.job.refrigerant import balance
    from assistant.messages.catalogue import catalogue

    profile = library.profiles.get(state.profile or "")
    named = next((fact for fact in reversed(state.course) if isinstance(fact, f.FaultNamed)), None)
    suspect = library.suspects.get(named.suspect) if named else None
    judged = [result.judgement for result in state.results if result.role != "changeover"]
    moved = balance(state.job.ledger)
    return Standing(
        site=state.note("site") or "",
        unit=_unit(profile, state.job.plate),
        fault=suspect.name if suspect else "",
        outcome=state.closing or "open",
        energy=state.energy,
        found=tuple(catalogue().in_words(each.says, library) for each in judged[-_LATEST:]),
        customer=state.job.customer,
        place=state.note("place") or (state.job.recalled.place if state.job.recalled else ""),
        kind=state.job.visit_kind or "repair",
        technician=state.technician,
        plate=state.job.plate,
        mended=tuple(dict.fromkeys(suspect for suspect, _ in state.mended)) if state.proof != "failed" else (),
        points=tuple(point.says for point in state.job.points),
        charged_kg=round(moved.charged_kg, 6),
        recovered_kg=round(moved.recovered_kg, 6),
        measured=tuple(measured(state, library)),
        left=tuple(catalogue().words(each, library) for each in left_as(state, library)),
        hazards=tuple(HazardLeft(hazard=x.hazard, by=x.by, cleared_by=x.cleared_by) for x in state.hazards),
        off=tuple(ThingLeft(thing=item.thing, places=item.places) for item in state.off),
        circuit=state.circuit,
    )


def _unit(profile: UnitProfile | None, plate: Plate) -> str:
    if profile is not None:
        return f"{profile.make} {profile.model}"
    made = f"{plate.make} {plate.model}".strip()
    return f"{made} (general values)" if made else "no profile: general values"
