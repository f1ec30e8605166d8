"""The unit of a visit: its profile, else general values, with what its own plate tells."""

from __future__ import annotations

from functools import lru_cache

from assistant.dialogue.state import VisitState
from assistant.language.meaning import Choice
from assistant.language.rooms import phrases_of
from assistant.library.loader import Library
from assistant.library.profile import UnitProfile, Zone


def unit_of(state: VisitState, library: Library) -> UnitProfile | None:
    """The chosen profile, else general values for the supply; None while neither is known."""
    plate = state.job.plate
    if state.profile:
        return profile_called(library, state.profile, plate.zones)
    supply = state.note("supply")
    if not supply or supply not in library.generals:
        return None
    return general_unit(library, supply, state.note("refrigerant"), plate.breaker_a, plate.zones)


def zone_choices(profile: UnitProfile | None) -> tuple[Choice, ...]:
    """The indoor units by their names, as answers."""
    return tuple(Choice(id=zone.id, phrases=zone.phrases) for zone in (profile.zones if profile else ()))


def zone_name(profile: UnitProfile | None, zone: str) -> str:
    """What the indoor unit with the id ``zone`` is called; of one that is not known, its id in words."""
    zones = profile.zones if profile else ()
    return next((each.name for each in zones if each.id == zone), zone.replace("-", " "))


@lru_cache(maxsize=64)
def profile_called(library: Library, profile_id: str, names: tuple[str, ...]) -> UnitProfile | None:
    """The profile, its indoor units by what people call them, in the same order; None for an id that is not known."""
    profile = library.profiles.get(profile_id)
    if profile is None or len(names) != len(profile.zones):
        return profile
    zones = tuple(
        zone
        if zone.name == name
        else zone.model_copy(update={"name": name, "phrases": (*phrases_of(name), *zone.phrases)})
        for zone, name in zip(profile.zones, names, strict=True)
    )
    return profile.model_copy(update={"zones": zones}) if zones != profile.zones else profile


@lru_cache(maxsize=64)
def general_unit(
    library: Library, supply: str, refrigerant: str | None, breaker_a: float | None, zones: tuple[str, ...]
) -> UnitProfile:
    """General values of a unit without a profile, with what its own plate tells: its breaker and its indoor units.

    Raises ``KeyError`` for a supply system of which the library has no general values.
    """
    general = library.general(supply, refrigerant)
    changes: dict[str, object] = {}
    if breaker_a is not None:
        changes["supply"] = general.supply.model_copy(update={"breaker_a": breaker_a})
    if len(zones) > 1:
        changes["zones"] = tuple(
            Zone(id=f"zone-{number}", name=name, phrases=phrases_of(name)) for number, name in enumerate(zones, start=1)
        )
    return general.model_copy(update=changes) if changes else general
