"""All faults, checks and symptoms that the simulated unit knows, gathered from the systems."""

from __future__ import annotations

from collections.abc import Callable, Collection
from random import Random

from assistant.library.models import Suspect
from assistant.library.profile import UnitProfile
from tests.simulation.bench import Bench
from tests.simulation.systems import (
    circuit,
    compressor,
    control,
    danger,
    drain,
    indoor,
    lesser,
    line,
    noise,
    outdoor,
    outdoor_fan,
    power,
    pressure,
    rare,
    reversing,
    sensors,
    site,
    supply,
    valve,
)
from tests.simulation.unit import Unit, sound_unit

SYSTEMS = (
    indoor,
    control,
    drain,
    circuit,
    valve,
    outdoor,
    reversing,
    pressure,
    noise,
    supply,
    power,
    outdoor_fan,
    compressor,
    line,
    sensors,
    site,
    lesser,
    rare,
    danger,
)

Fault = Callable[[Unit, Random], None]
AnswerOf = Callable[[Unit, Bench], None]
Shown = Callable[[Unit], float]

FAULTS: dict[str, Fault] = {key: fault for system in SYSTEMS for key, fault in system.FAULTS.items()}
ANSWERS: dict[str, AnswerOf] = {key: answer for system in SYSTEMS for key, answer in system.ANSWERS.items()}

#: What the unit itself reports, so that nobody arrives without knowing it.
INDICATIONS = frozenset(
    {
        "water-indication",
        "indoor-fan-indication",
        "outdoor-fan-indication",
        "sensor-indication",
        "no-communication",
        "inverter-trip",
        "supply-indication",
        "zone-conflict-indication",
        "pressure-indication",
        "high-pressure-indication",
        "low-pressure-indication",
        "hot-discharge-indication",
    }
)


#: Faults of one indoor unit, its wires and its branch: the other zones do not feel them.
_ONE_ZONE = frozenset(
    {
        *(fault for system in (indoor, control, drain) for fault in system.FAULTS),
        *(fault for fault in line.FAULTS if fault not in ("outdoor-board-signal", "electrical-noise")),
        *valve.FAULTS,
        "drain-pump-hose-blocked",
        "drain-pan-cracked",
        "blower-wheel-slips",
        "indoor-run-capacitor-weak",
        "vane-motor-failed",
        "ducts-choke",
        "receiver-failed",
        "remote-locked",
        "indoor-board-processor",
        "indoor-board-wet",
        "indoor-feed-broken",
        "cable-leaks",
        "signal-terminal-loose",
        *(fault for fault in sensors.FAULTS if fault.startswith(("room-", "pipe-"))),
    }
)


def broken_unit(profile: UnitProfile, suspect: Suspect, rng: Random) -> Unit:
    """A unit on some day with the fault of this suspect."""
    unit = sound_unit(profile, rng, several="multi-zone" in suspect.needs or rng.random() < 0.5)
    FAULTS[suspect.id](unit, rng)
    unit.site.scope = "one" if unit.several_zones and suspect.id in _ONE_ZONE else "all"
    return unit


def _gathered() -> dict[str, list[Shown]]:
    """A system may add to the symptom of another: its key is then "system:symptom"."""
    found: dict[str, list[Shown]] = {}
    for system in SYSTEMS:
        for key, of in system.SYMPTOMS.items():
            found.setdefault(key.split(":")[-1], []).append(of)
    return found


SYMPTOMS: dict[str, list[Shown]] = _gathered()


def _unread(unit: Unit) -> float:
    """A report that nobody on site can read: most are looked up before the visit begins."""
    return 0.1 * max(of(unit) for key in sorted(INDICATIONS) for of in SYMPTOMS[key])


SYMPTOMS["fault-shown"] = [_unread]


def shown(unit: Unit, but: Collection[str] = ()) -> dict[str, float]:
    """What the unit shows, with how much it is noticed (0 to 1)."""
    strengths = {key: max(of(unit) for of in every) for key, every in SYMPTOMS.items() if key not in but}
    return {key: strength for key, strength in strengths.items() if strength > 0}
