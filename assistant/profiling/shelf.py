"""The user's own profiles on disk: written whole or not at all, never over another without being asked."""

from __future__ import annotations

from pathlib import Path

from assistant.data.errors import DataFolderError
from assistant.data.files import write_whole
from assistant.data.images import as_jpeg
from assistant.data.places import user_folder
from assistant.library.loader import read_as
from assistant.library.profile import UnitProfile
from assistant.profiling.build import as_yaml

#: The longer side of a plate's picture, pixels: its smallest print is still read.
_PLATE = 1600


def own_profiles() -> Path:
    """The folder of the user's own profiles; it may not exist yet."""
    return user_folder() / "profiles"


def keep(profile: UnitProfile, replace: bool = False) -> Path:
    """Write ``profile`` among the user's own; raises DataFolderError when it is there already or cannot be written."""
    file = own_profiles() / f"{profile.id}.yaml"
    if file.exists() and not replace:
        raise DataFolderError(f"You have a profile {profile.id} already ({file}); add --replace to write over it.")
    try:
        write_whole(file, as_yaml(profile))
    except OSError as error:
        raise DataFolderError(f"The profile cannot be written to {file} ({error.strerror}).") from None
    return file


def import_file(file: Path, replace: bool = False) -> tuple[UnitProfile, Path]:
    """A profile written by hand, checked and kept under its id with its own comments.

    Raises LibraryError when it is wrong and DataFolderError when it cannot be kept.
    """
    profile = read_as(UnitProfile, file)
    goal = own_profiles() / f"{profile.id}.yaml"
    if goal.exists() and not replace and not goal.samefile(file):
        raise DataFolderError(f"You have a profile {profile.id} already ({goal}); add --replace to write over it.")
    try:
        write_whole(goal, file.read_text(encoding="utf-8"))
    except OSError as error:
        raise DataFolderError(f"The profile cannot be written to {goal} ({error.strerror}).") from None
    return profile, goal


def plate_picture(profile_id: str) -> Path:
    """Where the picture of a unit's plate is kept beside its profile; it may not exist."""
    return own_profiles() / f"{profile_id}.jpg"


def keep_picture(profile_id: str, file: Path) -> Path:
    """Keep a picture of the plate with a profile, in the place of an earlier one.

    Raises ImageError for what is no picture and DataFolderError when it cannot be kept.
    """
    picture, goal = as_jpeg(file, _PLATE), plate_picture(profile_id)
    try:
        write_whole(goal, picture)
    except OSError as error:
        raise DataFolderError(f"The picture cannot be written to {goal} ({error.strerror}).") from None
    return goal
