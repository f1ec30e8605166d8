"""All knowledge in one frozen ``Library``, by id and by what each thing is there for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from assistant.data.errors import LibraryError
from assistant.language.meaning import EmergencyKind
from assistant.library.course_models import Course
from assistant.library.kinds import Does
from assistant.library.models import Check, Hazard, Instrument, Precaution, Source, Suspect, Symptom, TakenOff
from assistant.library.opening import OpeningQuestion
from assistant.library.profile import RefrigerantData, UnitProfile


@dataclass(frozen=True, eq=False)  # one library is itself: it can be a key, and is never compared field by field
class Library:
    """All knowledge by id. ``files`` tells which file an item came from: ``files["check", "prove-dead"]``.

    ``system_of`` names the system (``FaultFile.system``) of each suspect and symptom. ``set_aside`` says of each of
    the user's own profiles that cannot be used why not; the rest goes on without it. Nothing here is ever changed.
    """

    checks: Mapping[str, Check]
    suspects: Mapping[str, Suspect]
    symptoms: Mapping[str, Symptom]
    precautions: Mapping[str, Precaution]
    hazards: Mapping[str, Hazard]
    things: Mapping[str, TakenOff]
    sources: Mapping[str, Source]
    instruments: Mapping[str, Instrument]
    profiles: Mapping[str, UnitProfile]
    generals: Mapping[str, UnitProfile]
    systems: Mapping[str, str]
    system_of: Mapping[str, str]
    files: Mapping[tuple[str, str], Path] = field(repr=False)
    courses: Mapping[str, Course] = field(default_factory=dict)
    first_questions: tuple[OpeningQuestion, ...] = ()
    set_aside: tuple[LibraryError, ...] = ()

    def general(self, system: str, refrigerant: str | None = None) -> UnitProfile:
        """General values for a visit without a profile, by supply system (``Supply.system``) and refrigerant.

        While the refrigerant is not known it counts as flammable. Raises ``KeyError`` for a supply system that
        ``generals`` has not.
        """
        profile = self.generals[system]
        if refrigerant is None:
            return profile
        data = RefrigerantData.model_validate({**profile.refrigerant.model_dump(), "name": refrigerant})
        features = tuple(feature for feature in profile.features if feature != "flammable")
        return profile.model_copy(update={"refrigerant": data, "features": features})

    def doing(self, what: Does) -> str:
        """The id of the check that does this. Raises ``KeyError`` where the library has none, as no loaded one."""
        return self._doing[what]

    @cached_property
    def _doing(self) -> dict[str, str]:
        return {check.does: check.id for check in self.checks.values() if check.does is not None}

    @property
    def opening(self) -> tuple[str, ...]:
        """The cautions that are spoken before anything else of a visit."""
        return tuple(caution.id for caution in self.precautions.values() if caution.opens)

    def raised_by(self, emergency: EmergencyKind) -> Hazard:
        """The hazard that somebody raises who calls this out. Raises ``KeyError`` as ``doing``."""
        return self._raised_by[emergency]

    @cached_property
    def _raised_by(self) -> dict[str, Hazard]:
        return {word: hazard for hazard in self.hazards.values() for word in hazard.emergency}

    def source_text(self, source_id: str) -> str:
        """A source as it is printed in a record."""
        return self._source_texts.get(source_id, source_id)

    @cached_property
    def _source_texts(self) -> dict[str, str]:
        return {source.id: _source_text(source) for source in self.sources.values()}


def _source_text(source: Source) -> str:
    if source.kind == "practice":
        return "common practice, no source" + (f" ({source.title})" if source.title else "")
    text = ", ".join(part for part in (source.title, source.edition, source.where) if part)
    return f"{text} (from memory)" if source.kind == "memory" else text
