"""A library small enough to be worked out by hand: five suspects, six checks."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from assistant.library.loader import load
from assistant.library.models import Check, Suspect, Symptom
from assistant.library.profile import UnitProfile

YES_NO = [{"id": "yes", "phrases": ["yes"]}, {"id": "no", "phrases": ["no"]}]


Chances = tuple[float, float]


def check(key: str, tells: dict[str, Chances], otherwise: Chances = (0.05, 0.95), **more: object) -> Check:
    """A yes-or-no check; chances are of (bad, good), and "yes" means bad."""
    data = {
        "id": key,
        "title": key.replace("-", " ").capitalize(),
        "why": "Because it tells.",
        "energy": "live",
        "where": "indoor",
        "minutes": 5,
        "ask": [{"key": "answer", "say": "Is it bad?", "choices": YES_NO}],
        "judge": {"by": "finding", "inputs": {"choice": "answer"}, "options": {"map": {"yes": "bad", "no": "good"}}},
        "outcomes": {"bad": {"verdict": "fail"}, "good": {"verdict": "pass", "means": "it is good"}},
        "otherwise": {"bad": otherwise[0], "good": otherwise[1]},
        "tells": {name: {"bad": bad, "good": good} for name, (bad, good) in tells.items()},
    }
    return Check.model_validate({**data, **more})


def suspect(key: str, weight: float, confirm: str, **more: object) -> Suspect:
    """A suspect whose repair costs nothing worth telling."""
    repair = {"say": "Mend it.", "energy": "any", "where": "indoor", "minutes": 5}
    data = {"id": key, "component": key, "name": f"the {key} is broken", "weight": weight, "confirm": [confirm]}
    return Suspect.model_validate({**data, "repair": repair, "proof": [confirm], **more})


@dataclass(frozen=True)
class Small:
    """What reasoning reads of a library."""

    suspects: dict[str, Suspect]
    checks: dict[str, Check]
    symptoms: dict[str, Symptom]
    system_of: dict[str, str] = field(default_factory=dict)

    def but(self, *checks: Check) -> Small:
        """The same with some checks added or changed."""
        return replace(self, checks={**self.checks, **{item.id: item for item in checks}})


def small() -> Small:
    """fan, filter and pump indoors, board and motor outdoors."""
    suspects = [
        suspect("filter", 4, "filter-look"),
        suspect("fan", 2, "fan-look", condemn=True),
        suspect("pump", 1, "pump-look", needs=["pump"]),
        suspect("board", 1, "board-volts", condemn=True),
        suspect("motor", 1, "motor-ohms", condemn=True),
    ]
    checks = [
        check("filter-look", {"filter": (0.97, 0.03)}, energy="any", minutes=1),
        check("fan-look", {"fan": (0.95, 0.05), "board": (0.6, 0.4)}, minutes=2),
        check("pump-look", {"pump": (0.95, 0.05)}, needs=["pump"]),
        check("board-volts", {"board": (0.96, 0.04)}, where="outdoor", minutes=6),
        check("motor-ohms", {"motor": (0.98, 0.02)}, energy="proved-dead", where="outdoor", minutes=6),
        check("noise", {"motor": (0.6, 0.4), "fan": (0.5, 0.5)}, minutes=1),
    ]
    weak = {"filter": 0.8, "fan": 0.4}
    dead = {"board": 0.9, "motor": 0.7, "fan": 0.2}
    symptoms = [
        Symptom(id="weak", name="weak air", phrases=("weak",), shown_by=weak, otherwise=0.02),
        Symptom(id="dead", name="nothing runs", phrases=("dead",), shown_by=dead, otherwise=0.01),
    ]
    return Small(
        {item.id: item for item in suspects}, {item.id: item for item in checks}, {item.id: item for item in symptoms}
    )


def profile(*features: str) -> UnitProfile:
    """A general unit with these features and no others that matter here."""
    return load().general("single-phase-230").model_copy(update={"features": features})
