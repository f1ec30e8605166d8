"""Where a visit stands, in a few words: kept beside its facts so that a list of thousands needs none of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from assistant.model import Model

if TYPE_CHECKING:
    from assistant.dialogue.state import VisitState
    from assistant.library.loader import Library

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


def standing(state: VisitState, library: Library) -> Standing:
    """In the words that the record uses too."""
    from assistant.dialogue import facts as f  # a list of thousands reads what was kept, and needs none of it

    profile = library.profiles.get(state.profile or "")
    named = next((fact for fact in reversed(state.course) if isinstance(fact, f.FaultNamed)), None)
    suspect = library.suspects.get(named.suspect) if named else None
    found = [result.judgement.says for result in state.results if result.role != "changeover"]
    return Standing(
        site=state.note("site") or "",
        unit=f"{profile.make} {profile.model}" if profile else "no profile: general values",
        fault=suspect.name if suspect else "",
        outcome=state.closing or "open",
        energy=state.energy,
        found=tuple(found[-_LATEST:]),
    )
