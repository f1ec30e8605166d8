"""The name under which this device's visits stand in the office: drawn once, kept in the user's folder."""

from __future__ import annotations

import re
import secrets

from assistant.data.files import write_whole
from assistant.data.places import user_folder
from assistant.errors import LaddersideError


class DeviceError(LaddersideError):
    """The device has no usable name."""


def device_name(given: str = "") -> str:
    """``given``, else the kept one, else a new one. Raises DeviceError."""
    if given:
        if not re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9_-]{0,39}", given):
            raise DeviceError(f"“{given[:60]}” cannot name a device; use letters, digits and hyphens, at most 40.")
        return given
    file = user_folder() / "device"
    try:
        kept = file.read_text(encoding="utf-8").strip()
        if re.fullmatch(r"[a-z0-9-]{1,40}", kept):
            return kept
    except (OSError, ValueError):
        pass
    name = f"device-{secrets.token_hex(4)}"
    try:
        write_whole(file, name + "\n")
    except OSError as error:
        raise DeviceError(f"The device's name cannot be kept in {file} ({error}). Give one with --device.") from None
    return name
