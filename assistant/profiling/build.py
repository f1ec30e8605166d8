"""From the answers of an interview to a unit profile and its file."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from typing import Any

from pydantic import ValidationError

from assistant.data import yaml_lines
from assistant.data.errors import DataFolderError
from assistant.library.profile import UnitProfile
from assistant.profiling.steps import (
    CURVES,
    FEATURES,
    SENSORS,
    TABLE_POINTS_C,
    Answers,
    parts_named,
)
from assistant.quantities.mechanical import FOOT_M
from assistant.quantities.supplies import SUPPLIES

_ORDINALS = ("one", "two", "three", "four", "five", "six", "seven", "eight")


class IncompleteProfileError(DataFolderError):
    """Answers that do not yet make a profile."""


def profile_of(answers: Answers) -> UnitProfile:
    """The profile that the answers make; raises IncompleteProfileError when they do not hang together."""
    parts = {name: make(answers) for name, make in _PARTS.items()}
    data = {name: part for name, part in parts.items() if part is not None}
    try:
        return UnitProfile.model_validate(data)
    except ValidationError as error:
        first = error.errors()[0]
        where = " › ".join(str(step) for step in first["loc"])
        raise IncompleteProfileError(
            f"The answers do not make a profile yet: {where}: {first['msg'].lower()}; go back and answer it again."
        ) from None


def as_yaml(profile: UnitProfile) -> str:
    """The profile as its file: only what differs from the defaults, in the order of the model, with a heading."""
    data = profile.model_dump(mode="json", exclude_defaults=True)
    heading = (
        f"# {profile.make} {profile.model}, from: {profile.source}.\n"
        "# `ladderside profile check` tells whether it can be used; add by hand what the manual says more.\n"
    )
    return heading + yaml_lines.written(data)


def slug(words: str) -> str:
    """Words as an id: small letters, digits and single hyphens."""
    plain = unicodedata.normalize("NFKD", words).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-") or "unit"


def _id(a: Answers) -> str:
    return slug(f"{a.get('make', '')} {a.get('model', '')}")


def _phrases(a: Answers) -> list[str]:
    said = a.get("said") or f"{a.get('make', '')} {a.get('model', '')}"
    return [str(said).lower()]


def _supply(a: Answers) -> dict[str, Any]:
    system = str(a.get("supply", ""))
    known = SUPPLIES.get(system)
    volts, hertz = (known.nameplate_v, known.hz) if known else (0, 0)
    if a.get("hertz"):
        hertz = int(str(a["hertz"]))
    return {
        "system": system,
        "nominal_v": volts,
        "frequency_hz": hertz,
        "running_current_a": a.get("running_current"),
        "breaker_a": a.get("breaker"),
    }


def _refrigerant(a: Answers) -> dict[str, Any]:
    return {
        "name": a.get("refrigerant"),
        "charge_kg": a.get("charge"),
        "free_length_m": a.get("free_length") or 0,
        "added_g_per_m": _added_g_per_m(a),
        "longest_line_m": a.get("longest"),
        "greatest_height_m": a.get("highest"),
    }


def _added_g_per_m(a: Answers) -> float:
    """Grams for each meter, whether the manual gives them for a meter or a foot."""
    added = float(a.get("added") or 0)
    return round(added / FOOT_M, 3) if a.get("added_per") == "foot" else added


def _zones(a: Answers) -> list[dict[str, Any]]:
    count = int(a.get("zones") or 0)
    if count == 1:
        return [{"id": "zone-1", "name": "the indoor unit", "phrases": ["the indoor unit", "indoor unit"]}]
    made = []
    for number in range(1, count + 1):
        plain = f"zone {_ORDINALS[number - 1]}"
        own = str(a.get(f"zone_{number}") or plain).lower()
        made.append({"id": f"zone-{number}", "name": own, "phrases": list(dict.fromkeys([own, plain]))})
    return made


def _features(a: Answers) -> list[str]:
    named = parts_named(str(a.get("parts") or ""))
    has = [feature for feature in FEATURES if feature in named or a.get(f"has_{feature}") == "yes"]
    module = a.get("module")
    return [*has, str(module)] if module else has


def _sensors(a: Answers) -> dict[str, Any]:
    made: dict[str, Any] = {}
    for sensor in SENSORS:
        curve = CURVES.get(str(a.get("hot_curve" if sensor == "discharge" else "curve") or ""))
        if curve is not None:
            made[sensor] = {"r25_ohm": curve[0] * 1000, "beta_k": curve[1]}
            continue
        points = [(point, a.get(f"{sensor}_{point}")) for point in sorted(TABLE_POINTS_C)]
        table = [[point, round(float(kohm) * 1000, 3)] for point, kohm in points if kohm is not None]
        if table:
            made[sensor] = {"table": table}
    return made


def _compressor(a: Answers) -> dict[str, Any] | None:
    if a.get("winding") is None:
        return None
    made = {"resistance_ohm": a["winding"]}
    made |= _given(a, imbalance_percent="imbalance", insulation_min_mohm="insulation")
    return made


def _fan(fan: str) -> Callable[[Answers], dict[str, Any] | None]:
    def part(a: Answers) -> dict[str, Any] | None:
        if a.get(f"{fan}_fan_supply") is None:
            return None
        value = {key: a.get(f"{fan}_fan_{key}") for key in ("control", "command_low", "command_high", "pulses")}
        return {
            "supply_v": a[f"{fan}_fan_supply"],
            "control_v": value["control"],
            "control_span_v": [value["command_low"], value["command_high"]],
            "pulses_per_turn": int(value["pulses"] or 0),
            "speed_rpm": [a.get(f"{fan}_fan_rpm_low"), a.get(f"{fan}_fan_rpm_high")],
        }

    return part


def _bus(a: Answers) -> dict[str, Any] | None:
    if a.get("bus_uf") is None:
        return None
    return {"capacitance_uf": a["bus_uf"], "bleed_ohm": float(a.get("bleed") or 0) * 1000}


def _signal(a: Answers) -> dict[str, Any] | None:
    if a.get("signal_low") is None:
        return None
    pair = [str(a.get("signal_one")), str(a.get("signal_two"))]
    return {"terminals": pair, "pair": pair, "low_v": a["signal_low"], "high_v": a.get("signal_high")}


def _coil(step: str) -> Callable[[Answers], dict[str, Any] | None]:
    return lambda a: None if a.get(step) is None else {"resistance_ohm": a[step]}


def _switch(side: str) -> Callable[[Answers], dict[str, Any] | None]:
    opens, closes = f"{side}_opens", f"{side}_closes"
    return lambda a: None if a.get(opens) is None else {"opens_kpa": a[opens], "closes_kpa": a.get(closes)}


def _indications(a: Answers) -> list[dict[str, Any]]:
    made = []
    number = 1
    while a.get(f"shown_{number}"):
        shown = str(a[f"shown_{number}"])
        meaning, symptom = a.get(f"means_{number}"), a.get(f"symptom_{number}")
        made.append({"shown": shown, "phrases": [shown.lower()], "meaning": meaning, "symptom": symptom})
        number += 1
    return made


def _given(a: Answers, **fields: str) -> dict[str, Any]:
    return {field: a[step] for field, step in fields.items() if a.get(step) is not None}


_PARTS: dict[str, Callable[[Answers], Any]] = {
    "id": _id,
    "make": lambda a: a.get("make"),
    "model": lambda a: a.get("model"),
    "phrases": _phrases,
    "source": lambda a: a.get("source"),
    "features": _features,
    "supply": _supply,
    "refrigerant": _refrigerant,
    "zones": _zones,
    "sensors": _sensors,
    "compressor": _compressor,
    "indoor_fan": _fan("indoor"),
    "outdoor_fan": _fan("outdoor"),
    "bus": _bus,
    "signal": _signal,
    "expansion_valve_coil": _coil("eev"),
    "reversing_valve_coil": _coil("reversing"),
    "high_pressure_switch": _switch("high"),
    "low_pressure_switch": _switch("low"),
    "indications": _indications,
}
