"""The units that rules are tried on: every profile, and what its features let it have."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.library.loader import Library
from assistant.library.models import Check, Suspect
from assistant.library.profile import UnitProfile, features_of


@dataclass(frozen=True)
class Unit:
    """One unit that a visit may meet: its name and what its features let it have."""

    name: str
    features: frozenset[str]
    suspects: tuple[Suspect, ...]
    checks: tuple[Check, ...]


def units(library: Library) -> list[Unit]:
    """Every shipped or own profile and the general ones."""
    return [_unit(profile, library) for profile in (*library.profiles.values(), *library.generals.values())]


def _unit(profile: UnitProfile, library: Library) -> Unit:
    has = features_of(profile)
    return Unit(
        f"{profile.make} {profile.model}",
        has,
        tuple(suspect for suspect in library.suspects.values() if has.issuperset(suspect.needs)),
        tuple(check for check in library.checks.values() if has.issuperset(check.needs)),
    )
