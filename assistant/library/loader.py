"""Reads ``knowledge/`` and the user's own profiles into one frozen ``Library``, or says what is wrong where."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from pathlib import Path

from assistant.data.places import data_folder, user_folder
from assistant.library import own_weights
from assistant.library.course_models import Course
from assistant.library.gathering import Gathering
from assistant.library.models import FaultFile, Hazard, Instrument, Precaution, Source, TakenOff
from assistant.library.opening import FILE as OPENING_FILE
from assistant.library.opening import Opening
from assistant.library.profile import UnitProfile
from assistant.library.read import read_as, yaml_files
from assistant.library.whole import Library
from assistant.model import Model

__all__ = ["Library", "load", "read_as"]


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


def load(folder: Path | None = None, user: Path | None = None) -> Library:
    """Everything in ``folder`` (default: the shipped knowledge), then the profiles in ``user``/profiles.

    A profile of the user's wins over a shipped one of the same id; one that cannot be used is set aside and stops
    nothing else. Reviewed starting weights (``own_weights``) take the place of the library's. Raises ``LibraryError``
    for the shipped knowledge. Read once, and again when a file has changed.
    """
    root, own = folder or data_folder("knowledge"), user or user_folder()
    mine = _stamps([own / "profiles", *_within(own / "profiles"), own / own_weights.FILE])
    return _read(root, own if mine else None, (*_stamps(root.rglob("*")), *mine))


def _within(folder: Path) -> list[Path]:
    """What is in ``folder``; nothing where it cannot be entered, which whoever reads it tells."""
    try:
        return list(folder.glob("*"))
    except OSError:
        return []


def _stamps(paths: Iterable[Path]) -> tuple[tuple[str, int, int, int], ...]:
    """What changes when one of ``paths`` changes, comes or goes."""
    found = []
    for path in sorted(paths):
        try:
            stat = path.stat()
        except FileNotFoundError:
            continue
        except OSError:  # not to be read: the reader says so
            found.append((str(path), 0, 0, 0))
        else:
            found.append((str(path), stat.st_mtime_ns, stat.st_ctime_ns, stat.st_size))
    return tuple(found)


@lru_cache(maxsize=4)
def _read(root: Path, own: Path | None, stamps: tuple[tuple[str, int, int, int], ...]) -> Library:
    gathering = Gathering()
    _read_shared(root, gathering)
    fault_files = [(file, read_as(FaultFile, file)) for file in _fault_files(root)]
    for file, content in fault_files:
        gathering.take_faults(content, file)
    for file, content in fault_files:
        gathering.merge_additions(content, file)
    gathering.tell_alike()
    if (root / OPENING_FILE).is_file():
        gathering.take_opening(read_as(Opening, root / OPENING_FILE), root / OPENING_FILE)
    for file in _course_files(root):
        gathering.take_course(read_as(Course, file), file)
    for file in yaml_files(root / "profiles"):
        gathering.take_profile(read_as(UnitProfile, file), file)
    if own is not None:
        gathering.take_own(own / "profiles")
        gathering.take_weights(own / own_weights.FILE)
    return gathering.library()


def _fault_files(root: Path) -> list[Path]:
    procedures = root / "procedures.yaml"
    steps = root / "visits" / _STEPS
    return [procedures, *yaml_files(root / "faults"), *([steps] if steps.is_file() else [])]


#: The checks that only courses ask for; every other file beside it is a course.
_STEPS = "steps.yaml"


def _course_files(root: Path) -> list[Path]:
    return [file for file in yaml_files(root / "visits") if file.name != _STEPS]


def _read_shared(root: Path, gathering: Gathering) -> None:
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
