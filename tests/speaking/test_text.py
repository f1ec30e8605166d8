"""Replies as a person says them."""

import re
import subprocess

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.speaking.numbers import number
from assistant.speaking.text import WORDS_PER_MINUTE, seconds, spoken
from assistant.speaking.units import SPELLINGS, UNITS

SAID = {
    "4.2 kΩ": "four point two kilohms",
    "4.2kΩ": "four point two kilohms",
    "1 V": "one volt",
    "0.5 V": "zero point five volts",
    "15 V": "one five, fifteen volts",
    "50 V": "five zero, fifty volts",
    "324 V DC": "three hundred twenty four volts DC",
    "230 V AC ±10 %": "two three zero volts AC plus or minus ten percent",
    "120 psig": "one hundred twenty P S I gauge",
    "8.5 K superheat": "eight point five kelvin superheat",
    "-22 °C": "minus twenty two degrees Celsius",
    "−5 °F": "minus five degrees Fahrenheit",
    "35 µF": "thirty five microfarads",
    "35 μF": "thirty five microfarads",
    "2 MΩ": "two megohms",
    "500 µmHg": "five hundred microns",
    "4.2 m3/min": "four point two cubic meters per minute",
    "1 m³/min": "one cubic meter per minute",
    "470 pF": "four hundred seventy picofarads",
    "10 L/min": "ten liters per minute",
    "25 inHg": "twenty five inches of mercury",
    "12 mbar": "twelve millibars",
    "9000 BTU/h": "nine thousand B T U per hour",
    "25 kΩ/°C": "twenty five kilohms per degree Celsius",
    "12,213 Ω": "one two two one three ohms",
    "a 5 A fuse": "a five amp fuse",
    "4–5 V": "four to five volts",
    "0.3-0.7 V": "zero point three to zero point seven volts",
    "3.3 kΩ–3.5 kΩ": "three point three kilohms to three point five kilohms",
    "-5 to -3 °C": "minus five to minus three degrees Celsius",
    "1/4 in flare": "one quarter inch flare",
    "3/8 in.": "three eighths inch.",
    "4 1/2 turns": "four and a half turns",
    "½ V": "one half volt",
    "2¾ in": "two and three quarters inches",
    "U–V 1.20 Ω": "U to V, one point two zero ohms",
    "L1-L2 230 V": "L one to L two, two three zero volts",
    "P to N: 0.4 V": "P to N: zero point four volts",
    "1-2 and 2-3": "one to two and two to three",
    "Plug JQ12 pin 3 is loose": "Plug J Q one two pin three is loose",
    "model AX-09": "model ay X zero nine",
    "R32, R410A or R454B": "R thirty two, R four ten ay or R four fifty four B",
    "an A2L refrigerant": "an ay two L refrigerant",
    "terminal A": "terminal ay",
    "A fuse is open.": "A fuse is open.",
    "the LED and the EEV": "the L E D and the E E V",
    "reads OL": "reads O L",
    "in kΩ": "in kilohms",
    "at 14:05": "at fourteen oh five",
    "the 2nd unit": "the second unit",
    "Is it < 50 V?": "Is it below five zero, fifty volts?",
    "A check (careful) — now": "A check, careful, now",
    "two-wire": "two-wire",
    "plug it in at 5 A.": "plug it in at five amps.",
    "": "",
}


@pytest.mark.parametrize("written", SAID)
def test_as_a_person_says_it(written):
    assert spoken(written) == SAID[written]


@pytest.mark.parametrize("symbol", SPELLINGS)
def test_every_unit_is_said_in_words(symbol):
    said = spoken(f"It reads 2 {symbol}, so go on.")
    unit = said.removeprefix("It reads two ").removesuffix(", so go on.")
    assert re.fullmatch(r"[A-Za-z ]+", unit), said
    assert unit in {many for _, many in UNITS.values()}


def test_symbols_do_not_eat_words():
    for words in ("Go in and on at a min", "Kim has seven mm", "An hour in Pau", "V A W are letters"):
        said = spoken(f"3 {words}")
        assert said.split()[0] == "three"
    assert spoken("5 Volvos") == "five Volvos"
    assert spoken("3 min") == "three minutes"
    assert spoken("3 minds") == "three minds"


TEXTS = st.text(st.sampled_from(list("ABCUVWPNabc 0123456789.,-–/±°Ωµk%:()")), max_size=40)


@given(TEXTS)
def test_no_text_breaks_it_and_no_figure_is_left(text):
    said = spoken(text)
    assert not re.search(r"\d", said), said
    assert "  " not in said


@given(st.integers(0, 99_999), st.sampled_from(["V", "kΩ", "°C", "psi", "A", "MΩ"]), st.booleans())
def test_no_figure_is_lost(value, unit, negative):
    said = spoken(f"It is {'-' if negative else ''}{value} {unit}.")
    assert said.startswith(f"It is {'minus ' if negative else ''}{number(str(value))} ")


@given(st.lists(st.sampled_from(list(SAID)), min_size=1, max_size=3))
def test_words_are_left_as_they_are(parts):
    once = spoken(", ".join(parts))
    assert spoken(once) == once


#: Replies of the kind that the visit speaks.
REPLIES = (
    "U to V 4.2 kΩ. That is within its limits, so the winding is sound.",
    "The bus shows 324 V DC. Wait five minutes, then measure P to N.",
    "Careful: the fan may start without warning. Keep your hand out of the blades.",
    "I heard 12,213 Ω, right?",
    "Unplug connector CN7 and read the resistance at its pins.",
    "U to V 1.20 Ω, V to W 1.21 Ω, U to W 0.2 Ω: the windings are unequal, so the compressor is at fault.",
    "Power is off and locked. Is the lamp on the board dark?",
)


@pytest.mark.parametrize("text", REPLIES)
@pytest.mark.parametrize("pace", [1.0, 0.8])
def test_seconds_are_those_of_espeak(text, pace):
    words = ["espeak-ng", "-v", "en-us", "-s", str(round(WORDS_PER_MINUTE * pace)), "--stdout", spoken(text)]
    samples = len(subprocess.run(words, capture_output=True, check=True).stdout) / 2
    assert seconds(text, pace) == pytest.approx(samples / 22_050, rel=0.25)


def test_seconds_of_nothing():
    assert seconds("") == 0
    assert seconds(" … ") == 0
