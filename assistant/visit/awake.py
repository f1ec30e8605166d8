"""Keeps the machine awake while a visit is under way, and tells when its battery runs low."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from types import TracebackType

#: A battery at or below this share that is not being charged is told, percent, once until it was charged above it.
LOW_PERCENT = 12
_SUPPLIES = Path("/sys/class/power_supply")


class Awake:
    """While entered, the machine does not sleep of itself. Where the system has no way for that, nothing is done.

    Whatever keeps it awake ends with this program, also when it is killed.
    """

    def __init__(self) -> None:
        self.keeper: subprocess.Popen[bytes] | None = None

    def __enter__(self) -> Awake:
        command = keeping_awake()
        if command:
            try:
                self.keeper = subprocess.Popen(
                    command, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
                )
            except OSError:
                self.keeper = None
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self.keeper is not None:
            self.keeper.terminate()
            self.keeper.wait()


def keeping_awake() -> list[str]:
    """What keeps the system awake as long as this process lives; empty when there is no such thing."""
    if sys.platform == "darwin":
        return ["caffeinate", "-i", "-w", str(os.getpid())]
    inhibit = shutil.which("systemd-inhibit")
    if inhibit is None or shutil.which("tail") is None:
        return []
    waits = ["tail", f"--pid={os.getpid()}", "-f", os.devnull]
    return [inhibit, "--what=idle:sleep:handle-lid-switch", "--who=Ladderside", "--why=a visit is under way",
            "--mode=block", *waits]  # fmt: skip


class Battery:
    """``runs_low`` is true once when the battery comes down to LOW_PERCENT; false where there is none."""

    def __init__(self, supplies: Path = _SUPPLIES) -> None:
        self._supplies = supplies
        self._told = False

    def runs_low(self) -> bool:
        """Look at it; cheap enough for every half minute."""
        left = min(_batteries(self._supplies), default=None)
        low = left is not None and left <= LOW_PERCENT
        told, self._told = self._told, low
        return low and not told


def _batteries(supplies: Path) -> Iterator[int]:
    """Percent left in each battery of the machine that is not being charged."""
    try:
        folders = sorted(supplies.iterdir())
    except OSError:
        return
    for folder in folders:
        try:
            kind, status, capacity = ((folder / name).read_text().strip() for name in ("type", "status", "capacity"))
            scope = (folder / "scope").read_text().strip() if (folder / "scope").exists() else "System"
            if kind == "Battery" and scope == "System" and status not in ("Charging", "Full"):
                yield int(capacity)
        except (OSError, ValueError):
            continue
