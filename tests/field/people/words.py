"""How people say it: a customer's complaint by sign, a technician's answer by what was found (US trade words)."""

from __future__ import annotations

import random

from tests.field.world import Found

#: What a customer would say of each sign (``world.signs``); a technician on the phone passes it on.
COMPLAINTS: dict[str, tuple[str, ...]] = {
    "dead": ("the whole thing is dead", "nothing at all when I push the button", "it won't do a thing"),
    "display-dark": ("there are no lights on it", "the screen on the head is black"),
    "display-frozen": ("the display is stuck and won't change", "it's froze up on one number"),
    "display-nonsense": ("the numbers on it make no sense", "the display shows garbage"),
    "ignores-remote": ("it won't listen to the remote", "the clicker does nothing"),
    "breaker-at-once": ("the breaker kicks the second I turn it on", "it pops the breaker right away"),
    "breaker-later": ("it trips the breaker after it's been on a bit", "runs a while, then the breaker pops"),
    "lights-dim": ("my lights dim every time it kicks on",),
    "shows:communication": ("it says it can't talk to the outside unit", "there's a communication error up"),
    "shows:indoor-fan": ("it shows a fan fault on the head", "error for the inside fan"),
    "shows:outdoor-fan": ("it shows a fault for the outside fan",),
    "shows:inverter": ("it says the inverter tripped", "drive fault on the display"),
    "shows:high-pressure": ("it cuts out on high pressure", "high head fault"),
    "shows:low-pressure": ("it cuts out on low pressure",),
    "shows:hot-discharge": ("it stops and says the discharge is too hot",),
    "shows:sensor": ("it says a sensor is bad", "thermistor fault on the screen"),
    "shows:supply": ("it complains about the power coming in", "voltage fault"),
    "shows:water": ("it stops and says the water's full", "the pan-full fault comes up"),
    "shows:gas": ("it sounds its leak alarm and just blows",),
    "shows:zone-conflict": ("this head says another one is in the other mode",),
    "communication-drops": ("it loses the outside unit now and then", "the fault comes and clears by itself"),
    "fan-still": ("no air comes out of it", "the fan inside don't turn"),
    "fan-weak": ("hardly any air comes out", "it barely blows"),
    "wrong-way": ("it's blowing hot and I want cold",),
    "cold-in-heating": ("it blows cold when I want heat", "no heat, just cold air"),
    "warm-in-cooling": ("it's blowing warm, it won't cool", "no cold air"),
    "weak": ("it runs all day and can't keep up", "it just doesn't cool or heat like it used to"),
    "high-bill": ("my electric bill went way up",),
    "compressor-noise": ("the outside unit growls and hums", "there's a hum outside and then it quits"),
    "compressor-silent": ("the outside never kicks in",),
    "stops-soon": ("the outside starts and quits inside a minute",),
    "on-off": ("it keeps going on and off", "short cycling all day"),
    "outdoor-fan-still": ("the fan outside isn't spinning",),
    "vane": ("it only blows into one corner", "the louver doesn't move"),
    "hiss": ("it hisses",),
    "zones-wait": ("this room just waits while another one runs",),
    "zone-dead": ("this one room is dead, the others are fine",),
    "zone-weak": ("this room is weaker than the others",),
    "wrong-room": ("when I turn this one on the other room gets it",),
    "idle-zone-active": ("a room that's off gets cold anyway",),
    "ice-out": ("the outside unit is a block of ice",),
    "ice-in": ("there's ice on the coil inside",),
    "ice-pipe": ("one of the copper pipes is frosted",),
    "water-down-wall": ("it's leaking water down my wall", "it drips on the floor"),
    "steam": ("the outside unit smokes, like steam",),
    "draught": ("I feel a draft behind the unit",),
    "rattle": ("it rattles", "it makes a racket"),
    "musty": ("it smells like dirty socks",),
    "drain-smell": ("it smells like sewer",),
    "stops-early": ("it quits before the room gets there", "it shuts itself off"),
    "room-off": ("the room ends up too cold or too hot",),
    "never-right": ("it's never been right since they put it in",),
}

_CUSTOMARY = {"degC": ("degF", "degrees"), "kPa": ("psi", "psi"), "m": ("ft", "feet"), "kg": ("lb", "pounds"),
              "Pa": ("micron", "microns")}  # fmt: skip
_SAID = {"V": "volts", "ohm": "ohms", "kohm": "k", "Mohm": "megs", "A": "amps", "uF": "microfarads", "rpm": "rpm",
         "degC": "degrees C", "kPa": "kPa", "m": "meters", "kg": "kilos", "Pa": "pascals"}  # fmt: skip

#: A technician's words for what is found; a word that is not here is said as it is.
FOUND: dict[str, tuple[str, ...]] = {
    "yes": ("yep", "yes it does", "yes"),
    "no": ("nope", "no", "no it don't"),
    "done": ("done", "okay, done"),
    "trips": ("it popped again", "breaker kicked right off"),
    "holds": ("she's holding", "breaker stays in"),
    "on": ("breaker's on",),
    "off": ("breaker was off",),
    "had tripped": ("it was tripped, I reset it and it's holding",),
    "trips again": ("it was tripped and it trips again",),
    "both": ("both", "the both of them"),
    "neither": ("neither one", "neither"),
    "fan": ("just the fan",),
    "compressor": ("just the compressor",),
    "stops soon": ("it kicks on and quits",),
    "free": ("it's free", "free and clear"),
    "stiff": ("it's stiff", "drags pretty good"),
    "stuck": ("won't budge", "seized up"),
    "firm": ("tight", "all good and tight"),
    "loose": ("it's loose", "that was loose"),
    "burnt": ("it's burnt up", "melted, burnt"),
    "moved": ("one of them moved on me",),
    "clean": ("looks clean",),
    "brown": ("it's cooked, brown", "terminal got hot"),
    "blocked": ("plugged solid", "it's blocked"),
    "dusty": ("a little dusty but open",),
    "clear": ("clear", "clean as a whistle"),
    "matted": ("matted over", "it's packed with dirt"),
    "caked": ("wheel's caked",),
    "strong": ("blowing strong",),
    "weak": ("blowing weak",),
    "stops": ("starts and stops, starts and stops",),
    "still": ("it's not turning", "dead still"),
    "jumping": ("it's jumping around",),
    "steady": ("it's steady, not moving",),
    "none": ("nothing", "none of it"),
    "dark": ("it's dark", "no lights"),
    "frozen": ("stuck on one screen",),
    "nonsense": ("it's showing garbage",),
    "normal": ("looks normal",),
    "rattle": ("a rattle",),
    "hum": ("just hums", "a hum"),
    "hiss": ("a hiss",),
    "growl": ("growls",),
    "silent": ("nothing, silent",),
    "never": ("never", "not once"),
    "understood": ("got it", "understood"),
    "smooth": ("smooth",),
    "thump": ("yep, I hear it thunk",),
    "ticks": ("ticks along even",),
    "buzzes": ("it buzzes",),
    "warm": ("both warm",),
    "thin frost": ("the little one's frosted",),
    "thick frost": ("the big one's frosted",),
    "nowhere": ("nowhere", "can't find any"),
    "gone": ("it's gone", "cleared up"),
    "same": ("same", "the same"),
    "crooked": ("it's sitting crooked",),
    "missing": ("there isn't one",),
    "stays": ("stays full",),
    "empties": ("drains right out",),
    "slow": ("goes down slow",),
    "plug": ("it held, then a slug of slime came",),
}


def complaint(sign: str, rng: random.Random) -> str:
    """What the customer says of a sign."""
    return rng.choice(COMPLAINTS[sign])


def of_choice(word: str, rng: random.Random) -> str:
    """A technician's words for a finding."""
    return rng.choice(FOUND.get(word, (word.replace("-", " "),)))


def unit_said(unit: str, customary: bool) -> str:
    """The unit a technician reads in: the question's own, or its US customary neighbour."""
    return _CUSTOMARY[unit][0] if customary and unit in _CUSTOMARY else unit


#: Digits after the point that people read out, by unit.
_DIGITS = {"degF": 1, "degC": 1, "psi": 0, "kPa": 0, "ft": 1, "m": 2, "lb": 2, "kg": 2, "micron": 0, "Pa": 0}


def rounded(value: float, unit: str) -> float:
    """A reading as it is said: no more digits than people read out."""
    return round(value, _DIGITS[unit]) if unit in _DIGITS else float(f"{value:.4g}")


def of_number(value: float, unit: str) -> str:
    name = {"degF": "degrees", "psi": "psi", "ft": "feet", "lb": "pounds", "micron": "microns"}.get(unit)
    return f"{value:g} {name or _SAID.get(unit, unit)}"


def of_finding(found: Found, unit: str, values: list[float | None]) -> str:
    """A technician's words for one or several readings, already in ``unit``; None is an open line."""
    if found.span is not None and len(values) == 2:
        low, high = values
        return f"it bounces between {low:g} and {of_number(high or 0.0, unit)}"
    return ", ".join("O L" if value is None else of_number(value, unit) for value in values)
