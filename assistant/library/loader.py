"""Reads ``knowledge/`` and the user's own profiles into one frozen ``Library``, or says what is wrong where."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any, TypeVar

from pydantic import ValidationError

from assistant.data import yaml_lines
from assistant.data.errors import LibraryError
from assistant.data.places import data_folder, user_folder
from assistant.library import own_weights
from assistant.library.models import (
    Check,
    Course,
    FaultFile,
    Hazard,
    Instrument,
    Precaution,
    Source,
    Suspect,
    Symptom,
    TakenOff,
)
from assistant.library.profile import RefrigerantData, UnitProfile
from assistant.library.profile_rules import of_profile, unknown_symptoms
from assistant.model import Model

M = TypeVar("M", bound=Model)


class InstrumentFile(Model):
    """``instruments.yaml``."""

    instruments: tuple[Instrument, ...]


class PrecautionFile(Model):
    """``precautions.yaml``."""

    precautions: tuple[Precaution, ...]


class HazardFile(Model):
    """``hazards.yaml``."""

    hazards: tuple[Hazard, ...]


class TakenOffFile(Model):
    """``taken-off.yaml``."""

    things: tuple[TakenOff, ...]


class SourceFile(Model):
    """``sources.yaml``."""

    sources: tuple[Source, ...]


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

    def source_text(self, source_id: str) -> str:
        """A source as it is printed in a record."""
        return self._source_texts.get(source_id, source_id)

    @cached_property
    def _source_texts(self) -> dict[str, str]:
        return {source.id: _source_text(source) for source in self.sources.values()}


def load(folder: Path | None = None, user: Path | None = None) -> Library:
    """Everything in ``folder`` (default: the shipped knowledge), then the profiles in ``user``/profiles.

    A profile of the user's wins over a shipped one of the same id; one that cannot be used is set aside and stops
    nothing else. Reviewed starting weights (``own_weights``) take the place of the library's. Raises ``LibraryError``
    for the shipped knowledge.
    """
    root = folder or data_folder("knowledge")
    gathering = _Gathering()
    _read_shared(root, gathering)
    fault_files = [(file, read_as(FaultFile, file)) for file in _fault_files(root)]
    for file, content in fault_files:
        gathering.take_faults(content, file)
    for file, content in fault_files:
        gathering.merge_additions(content, file)
    for file in _course_files(root):
        gathering.take_course(read_as(Course, file), file)
    for file in _yaml_files(root / "profiles"):
        gathering.take_profile(read_as(UnitProfile, file), file)
    gathering.take_own((user or user_folder()) / "profiles")
    gathering.take_weights((user or user_folder()) / own_weights.FILE)
    return gathering.library()


def read_as(kind: type[M], file: Path) -> M:
    """``file`` as one ``kind``; raises ``LibraryError`` with line and remedy when it does not fit."""
    return _validated(kind, yaml_lines.read(file), file)


def _validated(kind: type[M], data: Any, file: Path) -> M:
    if not isinstance(data, dict):
        raise LibraryError(file, 1, "the file is empty or not a list of “name: value”", "fill it or delete it")
    try:
        return kind.model_validate(data)
    except ValidationError as error:
        first = error.errors()[0]
        path = first["loc"]
        line = yaml_lines.line_of(file, path)
        raise LibraryError(file, line, _what(path, first), _remedy(first)) from None


def _what(path: tuple[str | int, ...], error: Any) -> str:
    where = " › ".join(str(step + 1) if isinstance(step, int) else step for step in path) or "the whole file"
    return f"{where}: {error['msg'][0].lower()}{error['msg'][1:]}"


_REMEDIES = {
    "extra_forbidden": "remove it or correct its spelling",
    "missing": "add it",
    "string_type": "put it in quotes",
    "literal_error": "use one of the values named",
    "string_pattern_mismatch": "use small letters, digits and single hyphens",
    "string_too_long": "say it in fewer words",
}


def _remedy(error: Any) -> str:
    return _REMEDIES.get(error["type"], "correct it there")


def _yaml_files(folder: Path) -> list[Path]:
    return sorted(file for file in folder.rglob("*.yaml") if file.is_file())


def _fault_files(root: Path) -> list[Path]:
    procedures = root / "procedures.yaml"
    steps = root / "visits" / _STEPS
    return [procedures, *_yaml_files(root / "faults"), *([steps] if steps.is_file() else [])]


#: The checks that only courses ask for; every other file beside it is a course.
_STEPS = "steps.yaml"


def _course_files(root: Path) -> list[Path]:
    return [file for file in _yaml_files(root / "visits") if file.name != _STEPS]


def _read_shared(root: Path, gathering: _Gathering) -> None:
    file = root / "sources.yaml"
    gathering.take("source", read_as(SourceFile, file).sources, file, gathering.sources)
    file = root / "precautions.yaml"
    gathering.take("precaution", read_as(PrecautionFile, file).precautions, file, gathering.precautions)
    file = root / "hazards.yaml"
    gathering.take("hazard", read_as(HazardFile, file).hazards, file, gathering.hazards)
    file = root / "taken-off.yaml"
    gathering.take("thing", read_as(TakenOffFile, file).things, file, gathering.things)
    file = root / "instruments.yaml"
    gathering.take("instrument", read_as(InstrumentFile, file).instruments, file, gathering.instruments)


class _Gathering:
    """The dictionaries while they are being filled."""

    def __init__(self) -> None:
        self.checks: dict[str, Check] = {}
        self.suspects: dict[str, Suspect] = {}
        self.symptoms: dict[str, Symptom] = {}
        self.precautions: dict[str, Precaution] = {}
        self.hazards: dict[str, Hazard] = {}
        self.things: dict[str, TakenOff] = {}
        self.sources: dict[str, Source] = {}
        self.instruments: dict[str, Instrument] = {}
        self.profiles: dict[str, UnitProfile] = {}
        self.generals: dict[str, UnitProfile] = {}
        self.courses: dict[str, Course] = {}
        self.set_aside: list[LibraryError] = []
        self.systems: dict[str, str] = {}
        self.system_of: dict[str, str] = {}
        self.files: dict[tuple[str, str], Path] = {}

    def take(self, kind: str, items: Iterable[Any], file: Path, into: dict[str, Any]) -> None:
        for item in items:
            if item.id in into:
                written = yaml_lines.Written(file)
                line = written.line(written.item(f"{kind}s", item.id) or ())
                first = self.files[kind, item.id].name
                raise LibraryError(file, line, f"the {kind} “{item.id}” is also in {first}", "rename one of them")
            into[item.id] = item
            self.files[kind, item.id] = file

    def take_faults(self, content: FaultFile, file: Path) -> None:
        self.systems[content.system] = content.about
        self.take("symptom", content.symptoms, file, self.symptoms)
        self.take("suspect", content.suspects, file, self.suspects)
        self.take("check", content.checks, file, self.checks)
        named = [item.id for group in (content.symptoms, content.suspects, content.checks) for item in group]
        self.system_of.update(dict.fromkeys(named, content.system))

    def take_course(self, course: Course, file: Path) -> None:
        self.courses[course.id] = course
        self.files["course", course.id] = file
        for number, step in enumerate(course.steps):
            named = {step.check, *step.only_if, *step.if_fails}
            for check in sorted(named - set(self.checks)):
                line = yaml_lines.line_of(file, ("steps", number))
                raise LibraryError(file, line, f"there is no check “{check}”", "correct the id or write the check")
            if step.symptom is not None and step.symptom not in self.symptoms:
                line = yaml_lines.line_of(file, ("steps", number))
                raise LibraryError(file, line, f"there is no symptom “{step.symptom}”", "correct the id")

    def take_profile(self, profile: UnitProfile, file: Path) -> None:
        if profile.general:
            self.generals[profile.supply.system] = profile
            self.files["profile", profile.id] = file
            return
        self.take("profile", (profile,), file, self.profiles)

    def take_own(self, folder: Path) -> None:
        """The user's profiles. Of two with one id that counts whose file is named after it, else the first."""
        sound: list[tuple[UnitProfile, Path]] = []
        try:
            files = _yaml_files(folder)
        except OSError as error:
            files = []
            self.set_aside.append(LibraryError(folder, 0, f"it cannot be read ({error.strerror})", "check its rights"))
        for file in files:
            try:
                sound.append((self._own(file), file))
            except LibraryError as error:
                self.set_aside.append(error)
        own: dict[str, Path] = {}
        for profile, file in sorted(sound, key=lambda each: (each[1].stem != each[0].id, each[1])):
            if profile.id in own:
                what = f"the profile “{profile.id}” is also in {own[profile.id].name}"
                self.set_aside.append(LibraryError(file, 0, what, "delete one of them, or give it another id"))
                continue
            own[profile.id] = self.files["profile", profile.id] = file
            self.profiles[profile.id] = profile

    def take_weights(self, file: Path) -> None:
        """Starting weights that somebody has reviewed; a file that cannot be used is set aside."""
        if not file.is_file():
            return
        try:
            self.suspects = own_weights.weighed(self.suspects, read_as(own_weights.OwnWeights, file))
        except LibraryError as error:
            self.set_aside.append(error)

    def _own(self, file: Path) -> UnitProfile:
        """One profile of the user's, as strict as ``profile check`` where a wrong figure could judge wrongly."""
        profile = read_as(UnitProfile, file)
        if profile.general:
            raise LibraryError(file, 0, "general values are not those of a unit", "take “general: true” out")
        for finding in (*of_profile(profile), *unknown_symptoms(profile, self.symptoms)):
            raise LibraryError(file, yaml_lines.line_of(file, finding.path), finding.what, finding.remedy)
        return profile

    def merge_additions(self, content: FaultFile, file: Path) -> None:
        for symptom_id, shown in content.also_shown_by.items():
            symptom = self.symptoms.get(symptom_id)
            if symptom is None:
                raise _nothing_to_add_to(file, ("also_shown_by", symptom_id))
            _refuse_twice(file, ("also_shown_by", symptom_id), symptom.shown_by, shown)
            self.symptoms[symptom_id] = symptom.model_copy(update={"shown_by": {**symptom.shown_by, **shown}})
        for check_id, tells in content.also_tells.items():
            check = self.checks.get(check_id)
            if check is None:
                raise _nothing_to_add_to(file, ("also_tells", check_id))
            _refuse_twice(file, ("also_tells", check_id), check.tells, tells)
            self.checks[check_id] = check.model_copy(update={"tells": {**check.tells, **tells}})

    def library(self) -> Library:
        return Library(
            checks=self.checks,
            suspects=self.suspects,
            symptoms=self.symptoms,
            precautions=self.precautions,
            hazards=self.hazards,
            things=self.things,
            sources=self.sources,
            instruments=self.instruments,
            profiles=self.profiles,
            generals=self.generals,
            courses=self.courses,
            systems=self.systems,
            system_of=self.system_of,
            files=self.files,
            set_aside=tuple(self.set_aside),
        )


def _nothing_to_add_to(file: Path, path: tuple[str, str]) -> LibraryError:
    line = yaml_lines.line_of(file, path)
    return LibraryError(file, line, f"there is no “{path[1]}” to add to", "correct the id or define it")


def _refuse_twice(file: Path, path: tuple[str, str], there: Mapping[str, Any], added: Mapping[str, Any]) -> None:
    for suspect in added:
        if suspect in there:
            line = yaml_lines.line_of(file, (*path, suspect))
            raise LibraryError(
                file, line, f"the chances of “{suspect}” under “{path[1]}” are given twice", "keep one of them"
            )


def _source_text(source: Source) -> str:
    if source.kind == "practice":
        return "common practice, no source" + (f" ({source.title})" if source.title else "")
    text = ", ".join(part for part in (source.title, source.edition, source.where) if part)
    return f"{text} (from memory)" if source.kind == "memory" else text
