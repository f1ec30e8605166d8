"""What a judgement of readings says, the same for every subject; and the limits it went by."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from assistant.calculations.uncertainty import Judged, Verdict, stands

PRACTICE = "common practice, no source"


class Limit(float):
    """A number that knows where it comes from, so that the working prints the limit with its own source.

    ``general``: not this unit's own figure. In arithmetic it is a plain number.
    """

    source: str
    general: bool

    def __new__(cls, value: float, source: str = PRACTICE, general: bool = False) -> Limit:
        limit = super().__new__(cls, value)
        limit.source, limit.general = source, general
        return limit


def source_of(limit: float | None) -> str:
    """Where a limit comes from, "" for a plain number or none."""
    return limit.source if isinstance(limit, Limit) else ""


@dataclass(frozen=True)
class Found:
    """A subject judged.

    ``chances``: of every outcome that the subject has (sum 1). ``good``: the outcomes that are no fault; ``unsettled``:
    those that say by themselves that nothing is settled (a cold compressor, a part of unknown make). ``values``: the
    numbers and words found on the way. ``against``: the number that decided, with its limits, if one did. ``places``:
    what the outcome speaks of. ``told``: set where safety, not the likeliest, names the outcome.
    ``unfit``: the instrument could not have passed even a perfect part, so that its doubt is no evidence.
    """

    chances: Mapping[str, float]
    good: tuple[str, ...]
    unsettled: tuple[str, ...] = ()
    values: Mapping[str, float | str | None] = field(default_factory=dict)
    against: Judged | None = None
    places: tuple[str, ...] = ()
    told: str = ""
    unfit: bool = False
    better: str = ""

    @property
    def outcome(self) -> str:
        """The likeliest outcome, or the one that safety names."""
        return self.told or max(self.chances, key=lambda name: self.chances[name])

    @property
    def kind(self) -> Verdict:
        """What the outcome amounts to when it is certain."""
        if self.outcome in self.good:
            return "pass"
        return "undecided" if self.outcome in self.unsettled else "fail"

    @property
    def verdict(self) -> Verdict:
        """pass or fail when every outcome that amounts to something else is out of the question, else undecided."""
        kind = self.kind
        alike = [name for name in self.chances if self._kind_of(name) == kind]
        return kind if stands(self.chances, alike) else "undecided"

    def _kind_of(self, name: str) -> Verdict:
        if name in self.good:
            return "pass"
        return "undecided" if name in self.unsettled else "fail"


def certain(outcome: str, outcomes: tuple[str, ...]) -> dict[str, float]:
    """The chances of an outcome beyond doubt."""
    return {name: 1.0 if name == outcome else 0.0 for name in outcomes}


def sided(judgement: Judged, names: tuple[str, str, str] = ("low", "ok", "high")) -> dict[str, float]:
    """The chances of a judged number under the names of its sides; two sides may have one name."""
    found: dict[str, float] = {}
    chances = (judgement.chance_below, judgement.chance_inside, judgement.chance_above)
    for name, chance in zip(names, chances, strict=True):
        found[name] = found.get(name, 0.0) + chance
    return found
