"""What became of one visit."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass
class Outcome:
    """What became of one visit.

    ``right``: a fault that is there was named, or its repair; ``first_was_right``: at the first naming. ``condemned``:
    dear repairs named that would have thrown a sound part away. ``minutes``: the checks' own, as the library states
    them. ``undecided``: questions that this site cannot answer; ``unknown``: those the technician could not;
    ``strange``: those the simulator does not know. ``turns``: the visit word by word.
    """

    seed: int
    unit: str
    faults: tuple[str, ...]
    complaint: str
    named: list[str] = field(default_factory=list)
    repairs: list[str] = field(default_factory=list)
    right: bool = False
    first_was_right: bool = False
    mended: bool = False
    condemned: list[str] = field(default_factory=list)
    minutes: float = 0.0
    minutes_to_first: float = 0.0
    minutes_to_mend: float | None = None
    lock_outs: int = 0
    asked_twice: list[str] = field(default_factory=list)
    hazards: list[str] = field(default_factory=list)
    undecided: list[str] = field(default_factory=list)
    not_understood: list[str] = field(default_factory=list)
    unknown: list[str] = field(default_factory=list)
    strange: list[str] = field(default_factory=list)
    slips: int = 0
    closing: str = ""
    course: list[str] = field(default_factory=list)
    turns: list[str] = field(default_factory=list)
