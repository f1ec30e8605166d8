"""What hands may come to, by place and state of the power: the table of the contributor's guide, made from the code.

``python -m assistant.dialogue.allowed`` writes it into DEVELOPERS.md; a test holds the two together.
"""

from __future__ import annotations

from pathlib import Path
from typing import get_args

from assistant.dialogue.energy import ORDER, PLACES, allows
from assistant.dialogue.state import VisitState
from assistant.dialogue.way import Ground, proofs_at
from assistant.library.demand import power_for
from assistant.library.kinds import At, Touched
from assistant.library.loader import Library, load
from assistant.library.models import Hazard
from assistant.reasoning.effort import UnitState

BEGIN, END = "<!-- allowed: made by assistant/dialogue/allowed.py -->", "<!-- end of allowed -->"
_GUIDE = Path(__file__).resolve().parents[2] / "DEVELOPERS.md"


def touches_in(state: UnitState) -> tuple[Touched, ...]:
    """What may be touched where the state is ``state``: a step that says of the power only what its touch asks."""
    return tuple(what for what in get_args(Touched) if allows(state, power_for(what)))


def table(library: Library) -> str:
    """The table as Markdown: each place, what proves it dead, and what hands may come to in each state."""
    lines = ["| place | proved dead by | " + " | ".join(ORDER) + " |", "| --- " * (2 + len(ORDER)) + "|"]
    for place in PLACES:
        cells = [", ".join(touches_in(state)) for state in ORDER]
        lines.append(f"| {place} | {_proofs(library, place)} | " + " | ".join(cells) + " |")
    hazards = [
        f"| {item.id} | {', '.join(item.bars) or 'nothing'} | {_clears(item)} |" for item in library.hazards.values()
    ]
    return "\n".join((*lines, "", "| hazard | bars | until |", "| --- | --- | --- |", *hazards))


def _proofs(library: Library, place: At) -> str:
    ground = Ground(VisitState(), library, frozenset())
    return ", ".join(f"`{check.id}` ({' and '.join(check.absent)})" for check in proofs_at(ground, place))


def _clears(hazard: Hazard) -> str:
    if hazard.lasts:
        return "the end of the visit"
    if not hazard.bars:
        return "it is only spoken"
    named = [f"`{check}`" for check in hazard.cleared_by] or ["the check that raised it"]
    return ("a repair, then " if hazard.repair else "") + " and ".join(named)


def main() -> None:
    """Put the table into the guide."""
    text = _GUIDE.read_text("utf-8")
    before, _, rest = text.partition(BEGIN)
    _, _, after = rest.partition(END)
    _GUIDE.write_text(f"{before}{BEGIN}\n{table(load())}\n{END}{after}", "utf-8")


if __name__ == "__main__":
    main()
