"""Whether what is installed is what the lock says: ``python .ci/locked.py requirements.lock``. Prints what differs."""

from __future__ import annotations

import re
import sys
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path


def differing(lock: Path) -> list[str]:
    """A sentence for every package of the lock that is missing or has another version."""
    found = []
    for name, wanted in re.findall(r"^([A-Za-z0-9._-]+)==([^\s;\\]+)", lock.read_text(encoding="utf-8"), re.M):
        try:
            installed = version(name)
        except PackageNotFoundError:
            found.append(f"{name} {wanted} is locked and not installed")
            continue
        if installed != wanted:
            found.append(f"{name} is {installed}, locked is {wanted}")
    return found


if __name__ == "__main__":
    wrong = differing(Path(sys.argv[1]))
    print("\n".join(wrong) or "Everything that is locked is installed as locked.")
    raise SystemExit(bool(wrong))
