"""Questions that the language tests ask, by a short name."""

from __future__ import annotations

from assistant.language.meaning import Choice, Expectation, Quantity, ReadingExpectation


def choice(name: str, *phrases: str) -> Choice:
    return Choice(id=name, phrases=phrases)


def asks(
    question: str,
    quantity: Quantity,
    unit: str,
    low: float,
    high: float,
    places: tuple[Choice, ...] = (),
    open_line: bool = False,
) -> Expectation:
    """A question for one quantity; bounds canonical."""
    reading = ReadingExpectation(
        quantity=quantity, unit=unit, plausible=(low, high), places=places, open_line=open_line
    )
    return Expectation(question=question, reading=reading)


UVW = (choice("u-v", "u to v", "u v"), choice("v-w", "v to w", "v w"), choice("u-w", "u to w", "u w"))
PINS = (choice("1-2", "one to two"), choice("1-3", "one to three"), choice("2-3", "two to three"))
ARMS = (choice("p-u", "p to u"), choice("p-v", "p to v"), choice("p-w", "p to w"))
LEGS = (choice("l1-l2", "L1 to L2"), choice("l1-g", "L1 to ground"), choice("l2-g", "L2 to ground"))

YES_NO = Expectation(
    question="yes-no",
    choices=(choice("yes", "yes"), choice("no", "no")),
    checks=(choice("float", "float switch", "condensate float"), choice("fan", "outdoor fan", "check the fan motor")),
)
SHOWN = Expectation(
    question="shown",
    choices=(
        choice("slow-leaf", "leaf lamp blinks slowly", "slow leaf lamp"),
        choice("fast-drop", "drop lamp blinks quickly", "fast drop lamp"),
        choice("five", "five flashes"),
        choice("code", "mark kite four"),
    ),
    choice_kind="indication",
)
NOTE = Expectation(question="note", text=True)

STATES: dict[str, Expectation] = {
    state.question: state
    for state in (
        asks("windings", "resistance", "ohm", 0.05, 100, UVW, open_line=True),
        asks("pins", "resistance", "ohm", 0.05, 100, PINS, open_line=True),
        asks("arms", "voltage_dc", "V", 0, 3, ARMS, open_line=True),
        asks("legs", "voltage_ac", "V", 0, 700, LEGS),
        asks("sensor", "resistance", "kohm", 500, 200_000),
        asks("insulation", "resistance", "Mohm", 0, 2e9, open_line=True),
        asks("bus", "voltage_dc", "V", -20, 850),
        asks("supply", "voltage_ac", "V", 0, 600),
        asks("clamp", "current", "A", 0, 40),
        asks("big-clamp", "current", "A", 0, 400),
        asks("capacitor", "capacitance", "uF", 0.1, 100),
        asks("line", "temperature", "degF", -50, 150),
        asks("split", "temperature_difference", "degF", 0, 30),
        asks("suction", "pressure_gauge", "psi", -101.4, 4500),
        asks("vacuum", "vacuum", "micron", 0, 102_000),
        asks("charge", "mass", "kg", 0, 20),
        asks("pipe", "length", "m", 0, 50),
        asks("wait", "duration", "s", 0, 7200),
        asks("speed", "speed", "rpm", 0, 3000),
        asks("air", "airflow", "cfm", 0, 5000),
        asks("hertz", "frequency", "Hz", 0, 400),
        asks("damp", "humidity", "%", 0, 100),
        asks("watts", "power", "W", 0, 20_000),
        asks("number", "count", "1", 0, 1e12),
        YES_NO,
        SHOWN,
        NOTE,
    )
}
STATES["after-windings"] = STATES["bus"].model_copy(
    update={"question": "after-windings", "corrects": STATES["windings"].reading}
)
STATES["after-shown"] = STATES["bus"].model_copy(update={"question": "after-shown", "corrects_choices": SHOWN.choices})
STATES["confirm"] = STATES["bus"].model_copy(
    update={"question": "confirm", "choices": YES_NO.choices, "corrects": STATES["sensor"].reading}
)
