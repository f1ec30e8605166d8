"""The questions of the interview, in the order of a manual: nameplate, zones, sensors, motors, bus, line, indications.

Everything but make, model, supply, refrigerant, charge and zones may be skipped ("not in the manual"); a check that
needs what was skipped then falls back on general values or is not asked. What makes a profile usable comes first, its
parts and sensors in one breath each; then it may be left for later.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from assistant.language.closed import HAS_IT, REFRIGERANTS, SUPPLIES
from assistant.language.meaning import Choice, Quantity
from assistant.library.loader import Library
from assistant.messages.catalogue import catalogue
from assistant.messages.message import Message, message

#: What was answered, by step id: a choice's id, words, a number in the step's own unit, or None when skipped.
Answers = Mapping[str, str | float | None]

SENSORS = ("room", "pipe", "outdoor", "discharge", "suction")
#: The temperatures (degC) at which a manual's sensor table is read; 25 first, since every manual prints it.
TABLE_POINTS_C = (25, 0, 50)
MOST_ZONES = 8

#: Parts that not every unit has; each is asked for by the message ``profile-has-`` and its name.
FEATURES = (
    "heat-pump",
    "auto-mode",
    "display",
    "remote-control",
    "network-adapter",
    "float-switch",
    "condensate-pump",
    "drain-trap",
    "dc-indoor-fan",
    "dc-outdoor-fan",
    "outdoor-lamps",
    "reactor",
    "soft-start-relay",
    "top-overload",
    "crankcase-heater",
    "base-heater",
    "expansion-valve",
    "service-valves",
)
#: Sensors by the name of their curve: kilohms at 25 degC and Beta over 25/50, K. Common practice, no source.
CURVES: dict[str, tuple[float, float]] = {"5k": (5, 3470), "10k": (10, 3950), "15k": (15, 3950), "20k": (20, 3950),
                                          "50k": (50, 3950)}  # fmt: skip
CURVE_CHOICES = tuple(
    Choice(id=f"{said}k", phrases=(f"{words} k", f"{words} kilohms"))
    for said, words in ((5, "five"), (10, "ten"), (15, "fifteen"), (20, "twenty"), (50, "fifty"))
)
LATER = Choice(id="later", phrases=("later", "that is enough", "not now", "enough for now"))
MORE = Choice(id="more", phrases=("more", "go on with the manual", "more now"))
HERTZ = (Choice(id="50", phrases=("fifty hertz", "fifty")), Choice(id="60", phrases=("sixty hertz", "sixty")))
PER = (
    Choice(id="meter", phrases=("each meter", "for each meter", "per meter", "meter")),
    Choice(id="foot", phrases=("each foot", "for each foot", "per foot", "foot")),
)
#: What a part is called where several are named in one breath.
PART_WORDS: dict[str, tuple[str, ...]] = {
    "heat-pump": ("heat pump", "heats and cools", "heating"),
    "auto-mode": ("automatic mode", "auto mode"),
    "display": ("display",),
    "remote-control": ("remote",),
    "network-adapter": ("network adapter", "network"),
    "float-switch": ("float switch", "float"),
    "condensate-pump": ("condensate pump", "drain pump"),
    "drain-trap": ("trap",),
    "dc-indoor-fan": ("dc indoor fan", "dc fans", "both fans dc"),
    "dc-outdoor-fan": ("dc outdoor fan", "dc fans", "both fans dc"),
    "outdoor-lamps": ("lamps", "lights on the board"),
    "reactor": ("reactor",),
    "soft-start-relay": ("soft start", "soft-start"),
    "top-overload": ("overload",),
    "crankcase-heater": ("crankcase heater",),
    "base-heater": ("base heater", "pan heater"),
    "expansion-valve": ("expansion valve",),
    "service-valves": ("service valves", "valves"),
}
MODULES = (
    Choice(id="separate-power-module", phrases=("on its own", "its own board", "separate")),
    Choice(id="integrated-power-module", phrases=("on the main board", "main board", "integrated")),
)


@dataclass(frozen=True)
class Step:
    """One question. Exactly one of ``quantity`` (with ``unit`` and bounds in it), ``choices`` and text is meant."""

    id: str
    asks: Message
    quantity: Quantity | None = None
    unit: str = ""
    bounds: tuple[float, float] = (0.0, 0.0)
    choices: tuple[Choice, ...] = field(default=())
    needed: bool = False

    @property
    def say(self) -> str:
        """The question as a person asks it."""
        return catalogue().words(self.asks, None)


def steps(given: Answers, library: Library) -> Iterator[Step]:
    """Every step that the answers so far call for, answered or not, in order."""
    yield from _nameplate(given)
    yield from _zones(given)
    yield from _in_one_breath()
    if given.get("enough") == LATER.id:
        return
    if not given.get("parts"):
        yield from _features()
    yield _step("module", choices=MODULES)
    if not given.get("curve"):
        yield from _sensors(given)
    yield from _motors(given)
    yield from _electronics(given)
    yield from _indications(given, library)


def parts_named(words: str) -> tuple[str, ...]:
    """The features that a list of parts names: "heat pump, display, float switch"."""
    said = f" {words.lower()} "
    return tuple(feature for feature, names in PART_WORDS.items() if any(name in said for name in names))


def _in_one_breath() -> Iterator[Step]:
    yield _step("parts")
    yield _step("curve", choices=CURVE_CHOICES)
    yield _step("hot_curve", choices=CURVE_CHOICES)
    yield _step("enough", choices=(LATER, MORE))


def _nameplate(given: Answers) -> Iterator[Step]:
    yield _step("make", needed=True)
    yield _step("model", needed=True)
    yield _step("said")
    yield _step("source", needed=True)
    yield _step("supply",
               choices=SUPPLIES, needed=True)  # fmt: skip
    yield _step("hertz", choices=HERTZ)
    yield _number("running_current", "current", "A", 0.1, 200)
    yield _number("breaker", "current", "A", 1, 200)
    yield _step("refrigerant", choices=REFRIGERANTS, needed=True)
    yield _number("charge", "mass", "kg", 0.05, 100, needed=True)
    yield _number("free_length", "length", "m", 0, 200)
    yield _number("added", "mass", "g", 0, 200)
    if given.get("added"):
        yield _step("added_per", choices=PER, needed=True)
    yield _number("longest", "length", "m", 1, 300)
    yield _number("highest", "length", "m", 0, 100)


def _step(step: str, choices: tuple[Choice, ...] = (), needed: bool = False) -> Step:
    return Step(step, message(f"profile-{step.replace('_', '-')}"), choices=choices, needed=needed)


def _number(
    step: str,
    quantity: Quantity,
    unit: str,
    low: float,
    high: float,
    needed: bool = False,
    asks: Message | None = None,
) -> Step:
    asks = asks or _step(step).asks
    return Step(step, asks, quantity=quantity, unit=unit, bounds=(low, high), needed=needed)


def _zones(given: Answers) -> Iterator[Step]:
    yield _number("zones", "count", "1", 1, MOST_ZONES, needed=True)
    count = given.get("zones")
    if isinstance(count, float) and count > 1:
        for zone in range(1, int(count) + 1):
            yield Step(f"zone_{zone}", message("profile-zone", number=zone))


def _features() -> Iterator[Step]:
    for feature in FEATURES:
        yield _step(f"has_{feature}", choices=HAS_IT)


def _sensors(given: Answers) -> Iterator[Step]:
    for sensor in SENSORS:
        first = f"{sensor}_{TABLE_POINTS_C[0]}"
        asks = message("profile-sensor", sensor=sensor, point=TABLE_POINTS_C[0])
        yield _number(first, "resistance", "kohm", 0.1, 1000, asks=asks)
        if given.get(first) is not None:
            for point in TABLE_POINTS_C[1:]:
                asks = message("profile-sensor", sensor=sensor, point=point)
                yield _number(f"{sensor}_{point}", "resistance", "kohm", 0.01, 2000, needed=True, asks=asks)


def _motors(given: Answers) -> Iterator[Step]:
    yield _number("winding", "resistance", "ohm", 0.02, 50)
    if given.get("winding") is not None:
        yield _number("imbalance", "percent", "%", 0.5, 20)
        yield _number("insulation", "resistance", "Mohm", 1, 1000)
    for fan in ("indoor", "outdoor"):
        supply = f"{fan}_fan_supply"
        yield _number(supply, "voltage_dc", "V", 5, 450, asks=message("profile-fan", fan=fan, what="supply"))
        if given.get(supply) is not None:
            yield from _fan(fan)


def _fan(fan: str) -> Iterator[Step]:
    for what, quantity, unit, low, high in _FAN:
        asks = message("profile-fan", fan=fan, what=what)
        yield _number(f"{fan}_fan_{what}", quantity, unit, low, high, needed=True, asks=asks)


_FAN: tuple[tuple[str, Quantity, str, float, float], ...] = (
    ("control", "voltage_dc", "V", 3, 30),
    ("command_low", "voltage_dc", "V", 0, 15),
    ("command_high", "voltage_dc", "V", 0.5, 15),
    ("pulses", "count", "1", 1, 24),
    ("rpm_low", "speed", "rpm", 50, 3000),
    ("rpm_high", "speed", "rpm", 100, 5000),
)


def _electronics(given: Answers) -> Iterator[Step]:
    yield _number("bus_uf", "capacitance", "uF", 50, 20000)
    if given.get("bus_uf") is not None:
        yield _number("bleed", "resistance", "kohm", 1, 2000, needed=True)
    yield _number("signal_low", "voltage_dc", "V", 0, 200)
    if given.get("signal_low") is not None:
        yield _number("signal_high", "voltage_dc", "V", 1, 400, needed=True)
        yield _step("signal_one", needed=True)
        yield _step("signal_two", needed=True)
    yield _number("eev", "resistance", "ohm", 1, 1000)
    yield _number("reversing", "resistance", "ohm", 5, 10000)
    for side in ("high", "low"):
        opens = f"{side}_opens"
        yield _number(opens, "pressure_gauge", "kPa", -90, 6000, asks=message("profile-switch-opens", side=side))
        if given.get(opens) is not None:
            asks = message("profile-switch-closes")
            yield _number(f"{side}_closes", "pressure_gauge", "kPa", -90, 6000, needed=True, asks=asks)


def _indications(given: Answers, library: Library) -> Iterator[Step]:
    """Three questions for each indication, until a “what does it show” is skipped."""
    symptoms = tuple(Choice(id=symptom.id, phrases=symptom.phrases) for symptom in library.symptoms.values())
    number = 1
    while True:
        yield Step(f"shown_{number}", message("profile-shown"))
        if given.get(f"shown_{number}") is None:
            return
        yield Step(f"means_{number}", message("profile-means"), needed=True)
        yield Step(f"symptom_{number}", message("profile-symptom"), choices=symptoms, needed=True)
        number += 1
