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

#: What was answered, by step id: a choice's id, words, a number in the step's own unit, or None when skipped.
Answers = Mapping[str, str | float | None]

SENSORS = ("room", "pipe", "outdoor", "discharge", "suction")
#: The temperatures (degC) at which a manual's sensor table is read; 25 first, since every manual prints it.
TABLE_POINTS_C = (25, 0, 50)
MOST_ZONES = 8

#: Parts that not every unit has, and how they are asked for.
FEATURES = {
    "heat-pump": "Does it heat as well as cool?",
    "auto-mode": "Has it an automatic mode?",
    "display": "Has the indoor unit a display?",
    "remote-control": "Has it a remote control?",
    "network-adapter": "Has it a network adapter?",
    "float-switch": "Has it a float switch?",
    "condensate-pump": "Has it a condensate pump?",
    "drain-trap": "Has its drain a trap?",
    "dc-indoor-fan": "Is the indoor fan motor a DC motor with its electronics inside?",
    "dc-outdoor-fan": "Is the outdoor fan motor a DC motor with its electronics inside?",
    "outdoor-lamps": "Has the outdoor board lamps?",
    "reactor": "Has it a reactor?",
    "soft-start-relay": "Has it a soft-start relay?",
    "top-overload": "Has the compressor an overload on its top?",
    "crankcase-heater": "Has it a crankcase heater?",
    "base-heater": "Has its base a heater?",
    "expansion-valve": "Has it an electronic expansion valve?",
    "service-valves": "Has it service valves?",
}
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
    say: str
    quantity: Quantity | None = None
    unit: str = ""
    bounds: tuple[float, float] = (0.0, 0.0)
    choices: tuple[Choice, ...] = field(default=())
    needed: bool = False


def steps(given: Answers, library: Library) -> Iterator[Step]:
    """Every step that the answers so far call for, answered or not, in order."""
    yield from _nameplate(given)
    yield from _zones(given)
    yield from _in_one_breath()
    if given.get("enough") == LATER.id:
        return
    if not given.get("parts"):
        yield from _features()
    yield Step("module", "Is the power module on its own board, or on the main board?", choices=MODULES)
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
    yield Step("parts", "Name the parts it has, such as heat pump, display, remote, float switch, DC fans, valves.")
    yield Step("curve", "Room and pipe sensors: five, ten, fifteen, twenty or fifty k at 25 °C?", choices=CURVE_CHOICES)
    yield Step("hot_curve", "And the discharge sensor?", choices=CURVE_CHOICES)
    yield Step("enough", "That is enough to work with. More of the manual now, or later?", choices=(LATER, MORE))


def _nameplate(given: Answers) -> Iterator[Step]:
    yield Step("make", "What make is it?", needed=True)
    yield Step("model", "What model?", needed=True)
    yield Step("said", "How will you say it on a visit? Skip for make and model.")
    yield Step("source", "Which manual are you reading?", needed=True)
    yield Step("supply", "What supply, two thirty, two forty, two oh eight, four hundred or one fifteen?",
               choices=SUPPLIES, needed=True)  # fmt: skip
    yield Step("hertz", "Fifty or sixty hertz?", choices=HERTZ)
    yield _number("running_current", "Running current in amperes?", "current", "A", 0.1, 200)
    yield _number("breaker", "Breaker size in amperes?", "current", "A", 1, 200)
    yield Step("refrigerant", "Which refrigerant?", choices=REFRIGERANTS, needed=True)
    yield _number("charge", "Factory charge in kilograms?", "mass", "kg", 0.05, 100, needed=True)
    yield _number("free_length", "Pipe length that needs no added charge, in metres?", "length", "m", 0, 200)
    yield _number("added", "Charge to add for pipes beyond that, in grams or ounces?", "mass", "g", 0, 200)
    if given.get("added"):
        yield Step("added_per", "For each meter, or each foot?", choices=PER, needed=True)
    yield _number("longest", "Longest pipe allowed, in metres?", "length", "m", 1, 300)
    yield _number("highest", "Greatest height between the units, in metres?", "length", "m", 0, 100)


def _number(step: str, say: str, quantity: Quantity, unit: str, low: float, high: float, needed: bool = False) -> Step:
    return Step(step, say, quantity=quantity, unit=unit, bounds=(low, high), needed=needed)


def _zones(given: Answers) -> Iterator[Step]:
    yield _number("zones", "How many indoor units can it have?", "count", "1", 1, MOST_ZONES, needed=True)
    count = given.get("zones")
    if isinstance(count, float) and count > 1:
        for zone in range(1, int(count) + 1):
            yield Step(f"zone_{zone}", f"What shall zone {zone} be called? Skip for its number.")


def _features() -> Iterator[Step]:
    for feature, say in FEATURES.items():
        yield Step(f"has_{feature}", say, choices=HAS_IT)


def _sensors(given: Answers) -> Iterator[Step]:
    for sensor in SENSORS:
        first = f"{sensor}_{TABLE_POINTS_C[0]}"
        yield _number(first, f"{sensor.capitalize()} sensor: kilohms at 25 °C?", "resistance", "kohm", 0.1, 1000)
        if given.get(first) is not None:
            for point in TABLE_POINTS_C[1:]:
                say = f"{sensor.capitalize()} sensor: kilohms at {point} °C?"
                yield _number(f"{sensor}_{point}", say, "resistance", "kohm", 0.01, 2000, needed=True)


def _motors(given: Answers) -> Iterator[Step]:
    yield _number("winding", "Compressor: ohms between two terminals at 20 °C?", "resistance", "ohm", 0.02, 50)
    if given.get("winding") is not None:
        yield _number("imbalance", "By how many percent may the windings differ?", "percent", "%", 0.5, 20)
        yield _number("insulation", "Least insulation to the shell, in megohms?", "resistance", "Mohm", 1, 1000)
    for fan in ("indoor", "outdoor"):
        supply = f"{fan}_fan_supply"
        yield _number(supply, f"{fan.capitalize()} fan motor: supply in volts DC?", "voltage_dc", "V", 5, 450)
        if given.get(supply) is not None:
            yield from _fan(fan)


def _fan(fan: str) -> Iterator[Step]:
    name = f"{fan.capitalize()} fan motor"
    for key, say, quantity, unit, low, high in _FAN:
        yield _number(f"{fan}_fan_{key}", f"{name}: {say}?", quantity, unit, low, high, needed=True)


_FAN: tuple[tuple[str, str, Quantity, str, float, float], ...] = (
    ("control", "its control supply in volts DC", "voltage_dc", "V", 3, 30),
    ("command_low", "command at lowest speed in volts DC", "voltage_dc", "V", 0, 15),
    ("command_high", "command at highest speed in volts DC", "voltage_dc", "V", 0.5, 15),
    ("pulses", "pulses for each turn", "count", "1", 1, 24),
    ("rpm_low", "lowest speed in turns a minute", "speed", "rpm", 50, 3000),
    ("rpm_high", "highest speed in turns a minute", "speed", "rpm", 100, 5000),
)


def _electronics(given: Answers) -> Iterator[Step]:
    yield _number("bus_uf", "Bus capacitors together, in microfarads?", "capacitance", "uF", 50, 20000)
    if given.get("bus_uf") is not None:
        yield _number("bleed", "Their bleed resistor in kilohms?", "resistance", "kohm", 1, 2000, needed=True)
    yield _number("signal_low", "Signal line: its lower voltage in volts DC?", "voltage_dc", "V", 0, 200)
    if given.get("signal_low") is not None:
        yield _number("signal_high", "And its higher voltage?", "voltage_dc", "V", 1, 400, needed=True)
        yield Step("signal_one", "First terminal of the signal pair?", needed=True)
        yield Step("signal_two", "Its second terminal?", needed=True)
    yield _number("eev", "Expansion valve: ohms of one coil?", "resistance", "ohm", 1, 1000)
    yield _number("reversing", "Reversing valve: ohms of its coil?", "resistance", "ohm", 5, 10000)
    for side in ("high", "low"):
        opens = f"{side}_opens"
        yield _number(opens, f"The {side} pressure switch opens at how many kilopascals?", "pressure_gauge", "kPa",
                      -90, 6000)  # fmt: skip
        if given.get(opens) is not None:
            yield _number(f"{side}_closes", "And closes again at?", "pressure_gauge", "kPa", -90, 6000, needed=True)


def _indications(given: Answers, library: Library) -> Iterator[Step]:
    """Three questions for each indication, until a “what does it show” is skipped."""
    symptoms = tuple(Choice(id=symptom.id, phrases=symptom.phrases) for symptom in library.symptoms.values())
    number = 1
    while True:
        yield Step(f"shown_{number}", "What can it show, in the words you will say? Skip when there are no more.")
        if given.get(f"shown_{number}") is None:
            return
        yield Step(f"means_{number}", "What does the manual say it means?", needed=True)
        yield Step(f"symptom_{number}", "Which symptom is that, in plain words?", choices=symptoms, needed=True)
        number += 1
