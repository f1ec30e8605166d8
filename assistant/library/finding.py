"""What is wrong with an item of the library: which item, where in it, and what to do about it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Any

from assistant.data.yaml_lines import Path_


@dataclass(frozen=True)
class Finding:
    """``kind`` and ``id`` name an item ("check", "filter-look"), ``path`` the place inside it."""

    kind: str
    id: str
    what: str
    remedy: str
    path: Path_ = ()


def unknown(
    kind: str, item_id: str, named: Iterable[str], there: Mapping[str, Any], what: str, path: Path_
) -> Iterator[Finding]:
    """The ids in ``named`` that ``there`` has not, with the likeliest that was meant."""
    for name in named:
        if name not in there:
            near = get_close_matches(name, there, n=1)
            remedy = f"did you mean “{near[0]}”" if near else "correct the id or define it"
            yield Finding(kind, item_id, f"there is no {what} called “{name}”", remedy, (*path, name))
