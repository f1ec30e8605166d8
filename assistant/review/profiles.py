"""The rules that each profile must keep, asked of all of them."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.library import profile_rules
from assistant.library.finding import Finding
from assistant.library.loader import Library


def sound_profiles(library: Library) -> Iterator[Finding]:
    """Profiles whose figures contradict themselves."""
    for profile in library.profiles.values():
        yield from profile_rules.of_profile(profile)


def unusual(library: Library) -> Iterator[Finding]:
    """Figures that are possible and rare: said back, for most of them are a slipped digit or a wrong unit."""
    for profile in library.profiles.values():
        yield from profile_rules.unusual(profile)
