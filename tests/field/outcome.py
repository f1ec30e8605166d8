"""What became of one visit."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass
class Outcome:
    """What became of one visit.

    ``right``: a fault that is there was named, or its repair; ``first_was_right``: at the first naming. ``condemned``:
    dear repairs named that would have thrown a sound part away. ``minutes``: the checks' own, as the library states
    them. ``undecided``: questions that this site cannot answer; ``unknown``: those the technician could not;
    ``strange``: those the simulator does not know. ``turns``: the visit word by word; ``words``: spoken by the program.
    ``suspects``: the program's own that would mend a fault that is here; ``chance``: of those together at the end;
    ``gave_up``: the technician's patience ended.
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
    suspects: tuple[str, ...] = ()
    chance: float = 0.0
    gave_up: bool = False
    words: int = 0
    course: list[str] = field(default_factory=list)
    turns: list[str] = field(default_factory=list)

    @property
    def good(self) -> bool:
        """The fault was named right at some time, or is mended."""
        return self.right or self.mended

    @property
    def why_not(self) -> str:
        """Why no right name came; empty when one did."""
        if self.good:
            return ""
        if not self.suspects:
            return "no suspect"
        ends = "patience" if self.gave_up else "unsolved"
        return f"{ends}, after a wrong name" if self.named else ends
