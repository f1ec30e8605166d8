"""Chances must cover every outcome, be possible, and sum to one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from assistant.data.yaml_lines import Path_
from assistant.library.finding import Finding
from assistant.library.loader import Library
from assistant.library.models import Check

#: Rounding in a hand-written set of chances.
_SLACK = 1e-3


def chances(library: Library) -> Iterator[Finding]:
    """Sets of chances that are incomplete, impossible or do not sum to one."""
    for check in library.checks.values():
        if check.tells and not check.otherwise:
            what = "it tells suspects apart but says nothing of the others"
            yield Finding("check", check.id, what, "add otherwise", ("tells",))
        if check.otherwise:
            yield from _set(check, check.otherwise, ("otherwise",), "otherwise")
        for suspect, told in check.tells.items():
            yield from _set(check, told, ("tells", suspect), f"for “{suspect}”")


def _set(check: Check, told: Mapping[str, float], path: Path_, name: str) -> Iterator[Finding]:
    missing = [outcome for outcome in check.outcomes if outcome not in told]
    strange = [outcome for outcome in told if outcome not in check.outcomes]
    if missing:
        yield Finding("check", check.id, f"chances {name} leave out {_list(missing)}", "add what is missing", path)
    if strange:
        what = f"chances {name} name {_list(strange)}, which the check cannot answer"
        yield Finding("check", check.id, what, "correct the outcome", path)
    if any(not 0 < chance < 1 for chance in told.values()) and len(check.outcomes) > 1:
        what = f"chances {name} hold a value that is not between 0 and 1"
        yield Finding("check", check.id, what, "nothing is certain: leave at least 0.001", path)
    if abs(sum(told.values()) - 1) > _SLACK:
        what = f"chances {name} sum to {sum(told.values()):.4g}"
        yield Finding("check", check.id, what, "make them sum to 1", path)


def _list(words: list[str]) -> str:
    return ", ".join(f"“{word}”" for word in words)
