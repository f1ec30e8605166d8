"""Puts what the files hold into the dictionaries of a library, and refuses what does not fit together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from assistant.data import yaml_lines
from assistant.data.errors import LibraryError
from assistant.library import own_weights
from assistant.library.course_models import Course
from assistant.library.models import (
    Check,
    FaultFile,
    Hazard,
    Instrument,
    Precaution,
    Source,
    Suspect,
    Symptom,
    TakenOff,
)
from assistant.library.opening import Opening, OpeningQuestion, questions_of, told_alike
from assistant.library.profile import UnitProfile
from assistant.library.profile_rules import of_profile, unknown_symptoms
from assistant.library.read import read_as, yaml_files
from assistant.library.whole import Library


class Gathering:
    """The dictionaries of a library while they are being filled."""

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
        self.first_questions: tuple[OpeningQuestion, ...] = ()
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

    def take_opening(self, content: Opening, file: Path) -> None:
        self.first_questions = questions_of(content, file, self.checks, self.symptoms)

    def tell_alike(self) -> None:
        """Checks that see what another sees tell of the suspects what that one tells."""
        for check in list(self.checks.values()):
            self.checks[check.id] = told_alike(check, self.checks, self.files["check", check.id])

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
            files = yaml_files(folder)
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
        try:
            if not file.is_file():
                return
        except OSError:  # a folder that cannot be entered: that was told of its profiles
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

    def _once(self, kind: str, field: str, named: Iterable[tuple[str, str]]) -> None:
        first: dict[str, str] = {}
        for item_id, word in named:
            if first.setdefault(word, item_id) != item_id:
                file = self.files[kind, item_id]
                line = yaml_lines.line_of(file, yaml_lines.Written(file).item(f"{kind}s", item_id) or ())
                what = f"“{field}: {word}” is said of {first[word]} and of {item_id}"
                raise LibraryError(file, line, what, "say it of one of them")

    def library(self) -> Library:
        """The whole. Raises ``LibraryError`` where two do what the dialogue calls upon one for."""
        self._once("check", "does", ((check.id, check.does) for check in self.checks.values() if check.does))
        called = ((hazard.id, word) for hazard in self.hazards.values() for word in hazard.emergency)
        self._once("hazard", "emergency", called)
        return Library(
            checks=self.checks,
            suspects=self.suspects,
            symptoms={key: self._one_of(symptom) for key, symptom in self.symptoms.items()},
            precautions=self.precautions,
            hazards=self.hazards,
            things=self.things,
            sources=self.sources,
            instruments=self.instruments,
            profiles=self.profiles,
            generals=self.generals,
            courses=self.courses,
            first_questions=self.first_questions,
            systems=self.systems,
            system_of=self.system_of,
            files=self.files,
            set_aside=tuple(self.set_aside),
        )

    def _one_of(self, symptom: Symptom) -> Symptom:
        """A symptom that is one of others, with each suspect's highest chance of these."""
        shown = dict(symptom.shown_by)
        for other in symptom.one_of:
            for suspect, chance in self.symptoms[other].shown_by.items() if other in self.symptoms else ():
                shown[suspect] = max(chance, shown.get(suspect, 0.0))
        return symptom.model_copy(update={"shown_by": shown})


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
