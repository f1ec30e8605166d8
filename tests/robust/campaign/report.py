"""What a part of the campaign came to."""

from __future__ import annotations

import statistics
from dataclasses import dataclass, field


@dataclass
class Report:
    """``tried`` faults, ``kept`` acknowledged things; ``failures`` say what did not hold, ``seconds`` each resume."""

    name: str
    tried: int = 0
    kept: int = 0
    seconds: list[float] = field(default_factory=list)
    failures: list[str] = field(default_factory=list)
    note: str = ""

    def hold(self, holds: bool, otherwise: str) -> None:
        """Note a failure where something does not hold."""
        if not holds:
            self.failures.append(otherwise)

    def line(self) -> str:
        """One line for the table."""
        resumed = ""
        if self.seconds:
            middle, worst = statistics.median(self.seconds), max(self.seconds)
            resumed = f"resumed in {1000 * middle:.0f} ms (median), {1000 * worst:.0f} ms (worst)"
        words = [
            f"{self.tried:>6} tried",
            f"{self.kept:>7} kept",
            f"{len(self.failures):>3} failed",
            resumed,
            self.note,
        ]
        return f"{self.name:<28}" + "  ".join(word for word in words if word)
