"""Checks put together for one judge, and answers as they would be heard."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache

from assistant.language.meaning import CANONICAL_UNIT, Finding, Quantity, Reading, Readings
from assistant.library.loader import Library, load
from assistant.library.models import Check
from assistant.library.profile import UnitProfile
from assistant.messages.catalogue import catalogue
from assistant.messages.message import Message
from assistant.reasoning.judgement import Judgement
from assistant.reasoning.judges import judge
from assistant.reasoning.judges.case import Answer
from assistant.reasoning.judges.registry import spec

#: What is not a number: an open line.
OL = None
#: The instrument of a quantity in these tests.
METERS: dict[Quantity, str] = {
    "resistance": "multimeter-ohm",
    "voltage_ac": "multimeter-ac",
    "voltage_dc": "multimeter-dc",
    "current": "clamp-ac",
    "capacitance": "multimeter-capacitance",
    "temperature": "contact-thermometer",
    "pressure_gauge": "digital-gauge",
    "vacuum": "vacuum-gauge",
    "mass": "charging-scale",
    "length": "tape-measure",
}
GOOD = {"ok", "balanced", "same", "dead", "closed", "symmetric", "pulsing", "works", "held", "holds", "inside", "none"}
#: Outcomes that settle nothing by themselves.
UNSETTLED = {"unknown-supply", "resting", "unclear", "unknown-line", "repeat-warm", "ground-fault", "rises"}

Given = float | None | str | tuple[float, float] | Sequence[float | None]


@lru_cache(maxsize=1)
def library() -> Library:
    """The shipped library, for its instruments, sources and profiles."""
    return load()


def profile(name: str = "general") -> UnitProfile:
    """A shipped profile, or general values for 230 V."""
    return library().general("single-phase-230") if name == "general" else library().profiles[name]


def asked(
    by: str,
    quantities: Mapping[str, Quantity | str],
    limits: Mapping[str, object] | None = None,
    options: Mapping[str, object] | None = None,
    outcomes: tuple[str, ...] = (),
    meter: str = "",
    plausible: tuple[float, float] = (-1e9, 1e9),
) -> Check:
    """A check for one judge. ``quantities``: the quantity of each input, or "choice" and its ids; limits as
    (value, unit) or as a profile's figure."""
    names = outcomes or spec(by).outcomes
    questions = []
    for name, quantity in quantities.items():
        question: dict[str, object] = {"key": name.replace("_", "-"), "say": "What is it?"}
        if quantity.startswith("choice"):
            ids = quantity.split(":")[1].split(",")
            question["choices"] = [{"id": key, "phrases": [key]} for key in ids]
        else:
            places = quantity.split(":")[1].split(",") if ":" in quantity else []
            kind = quantity.split(":")[0]
            question["reading"] = {
                "quantity": kind,
                "unit": CANONICAL_UNIT[kind],
                "plausible": plausible,
                "instrument": meter or METERS[kind],  # type: ignore[index]
                "open_line": True,
                "places": [{"id": key, "phrases": [key.replace("-", " to ")]} for key in places],
            }
        questions.append(question)
    figures = {
        name: limit if isinstance(limit, dict) else {"value": limit[0], "unit": limit[1], "source": "practice"}  # type: ignore[index]
        for name, limit in (limits or {}).items()
    }
    return Check.model_validate(
        {
            "id": "tried",
            "title": "Tried",
            "why": "To try a judge.",
            "energy": "any",
            "where": "anywhere",
            "minutes": 1,
            "ask": questions,
            "judge": {
                "by": by,
                "inputs": {name: name.replace("_", "-") for name in quantities},
                "limits": figures,
                "options": dict(options or {}),
            },
            "outcomes": {
                name: {
                    "verdict": "pass" if name in GOOD else "undecided" if name in UNSETTLED else "fail",
                    "means": f"it is {name}",
                }
                for name in names
            },
        }
    )


def heard(check: Check, values: Mapping[str, Given]) -> dict[str, Answer]:
    """Answers to a check: a number, OL, a (low, high) jumping display, a list for places, or a choice."""
    answers: dict[str, Answer] = {}
    for name, value in values.items():
        key = name.replace("_", "-")
        question = next(question for question in check.ask if question.key == key)
        if question.reading is None:
            answers[key] = Finding(choice=str(value))
            continue
        places: list[str | None] = [place.id for place in question.reading.places] or [None]
        given = value if isinstance(value, list) else [value]
        items = tuple(_reading(question.reading.quantity, one, place) for one, place in zip(given, places, strict=True))
        answers[key] = Readings(items=items)
    return answers


def _reading(quantity: Quantity, value: Given, place: str | None) -> Reading:
    span = value if isinstance(value, tuple) else None
    number = sum(span) / 2 if span else value
    return Reading(
        quantity=quantity,
        value=number if isinstance(number, float | int) else None,
        spoken_value=None,
        spoken_unit=CANONICAL_UNIT[quantity],
        special="open_line" if number is None else None,
        span=span,
        place=place,
    )


def judged(check: Check, unit: UnitProfile | None = None, **values: Given) -> Judgement:
    """The judgement of some answers in words, which must be sound whatever they are."""
    judgement = judge(check, heard(check, values), library(), unit or profile())
    assert abs(sum(chance for _, chance in judgement.chances) - 1) < 1e-9
    assert {name for name, _ in judgement.chances} == set(check.outcomes)
    says, better = (
        catalogue().words(told, _Shelf(check)) if isinstance(told, Message) else told
        for told in (judgement.says, judgement.better)
    )
    assert len(says.split()) < 25, says
    assert says.endswith((".", "?"))
    return judgement.model_copy(update={"says": says, "better": better})


class _Shelf:
    """The knowledge that a message of one check's judgement names."""

    def __init__(self, check: Check) -> None:
        self.checks = {check.id: check}
