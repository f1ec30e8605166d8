"""What the catalogue says of one calculation, and what comes of running it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import NamedTuple

from assistant.calculations import units
from assistant.calculations.found import Found
from assistant.calculations.uncertainty import Metered

#: A value given to or coming from a calculation: a number in the unit kept inside (as a ``Metered`` with its own
#: instrument, or a ``Limit`` with its own source), a word, a table of number pairs, or None for one that was not given.
#: ``math.inf`` stands for an open line on the meter where that is allowed.
Value = float | str | tuple[tuple[float, float], ...] | Metered | None

WORD, TABLE = "word", "table"


class Parameter(NamedTuple):
    """One value that a calculation takes.

    ``quantity`` is one of ``units.QUANTITIES``, or "word" (then ``choices`` is the closed list), or "table" (rows of
    °C and ohm). ``default`` is used when none is given; ``optional`` means None is a sensible value. ``open_line``:
    the meter may show no number. ``said_in`` is the unit to take for a spoken number without one, ``spoken`` the ways
    to say the name (lower case). ``instrument`` is the usual one that reads it (``instruments.USUAL``), ``accuracy``
    the calculation's own parameters that may say better: their common first word. ``belongs_to`` names the parameter
    without which this one means nothing, and is not told.
    """

    name: str
    quantity: str
    about: str
    default: Value = None
    optional: bool = False
    choices: tuple[str, ...] = ()
    open_line: bool = False
    said_in: str = ""
    spoken: tuple[str, ...] = ()
    instrument: str = ""
    accuracy: str = ""
    belongs_to: str = ""

    @property
    def unit(self) -> str:
        """The unit kept inside, "" for words and tables."""
        return units.QUANTITIES.get(self.quantity, "")

    @property
    def written_as(self) -> str:
        """The quantity by whose units its text is read: what is spoken of in megohms is an insulation."""
        return "insulation_resistance" if (self.quantity, self.said_in) == ("resistance", "Mohm") else self.quantity

    @property
    def required(self) -> bool:
        """Whether a calculation cannot be run without it."""
        return self.default is None and not self.optional


class Output(NamedTuple):
    """One value that a calculation gives; ``quantity`` as for a parameter. The first output is the answer.

    ``in_source`` marks words that are told within the source or the numbers and not shown again.
    """

    name: str
    quantity: str
    about: str
    in_source: bool = False


class Calculation(NamedTuple):
    """One entry of the catalogue.

    ``compute`` takes the parameters by name and returns the outputs by name, or where ``judges`` a judgement
    (``Found``) whose values and verdict are the outputs; only then does it get readings as ``Metered``. ``numbers`` is
    the formula with the numbers put in, as a template over the names of parameters and outputs; what else was given is
    added to it. ``source`` may also name outputs; the sources of limits are added to it.
    """

    name: str
    subject: str
    about: str
    parameters: tuple[Parameter, ...]
    outputs: tuple[Output, ...]
    formula: str
    numbers: str
    source: str
    compute: Callable[..., Mapping[str, Value] | Found]
    spoken: tuple[str, ...] = ()
    judges: bool = False

    def parameter(self, name: str) -> Parameter | None:
        """The parameter called ``name``, or None."""
        return next((p for p in self.parameters if p.name == name), None)


class Answer(NamedTuple):
    """One value of a result, in the unit kept inside; ``in_source`` as of its output.

    ``expanded``: its 95 % uncertainty with the instruments of the readings, None where that is not known.
    """

    name: str
    about: str
    quantity: str
    value: Value
    in_source: bool = False
    expanded: float | None = None

    @property
    def unit(self) -> str:
        """The unit kept inside, "" for words and tables."""
        return units.QUANTITIES.get(self.quantity, "")

    @property
    def text(self) -> str:
        """The value for people."""
        return shown(self.quantity, self.value)

    @property
    def text_with_uncertainty(self) -> str:
        """The value for people, with ± where that is known."""
        return self.text if self.expanded is None else f"{self.text} ± {width_shown(self.quantity, self.expanded)}"


class Result(NamedTuple):
    """A calculation done, as an engineer would write it.

    ``answers`` in order, the first being the answer; ``value`` and ``unit`` are its own. ``formula``, ``numbers``,
    ``text`` (the result in words) and ``source`` are ready to be shown. ``found`` is the judgement, if it is one.
    """

    name: str
    answers: tuple[Answer, ...]
    formula: str
    numbers: str
    source: str
    found: Found | None = None

    @property
    def value(self) -> Value:
        """The answer, in ``unit``."""
        return self.answers[0].value

    @property
    def unit(self) -> str:
        """The unit of the answer."""
        return self.answers[0].unit

    @property
    def text(self) -> str:
        """The answer with its name: "superheat = 5.1 K (9.2 °F)"."""
        return f"{self.answers[0].about} = {self.answers[0].text}"

    def answer(self, name: str) -> Value:
        """The value of the answer called ``name``; KeyError when there is none."""
        for answer in self.answers:
            if answer.name == name:
                return answer.value
        raise KeyError(name)


def shown(quantity: str, value: Value) -> str:
    """A value of any kind for people; a reading with its uncertainty."""
    if value is None:
        return "not known"
    if isinstance(value, tuple):
        return ", ".join(f"{units.figure(t)} °C: {units.shown('resistance', r)}" for t, r in value)
    if isinstance(value, str):
        return value
    if isinstance(value, Metered):
        if value.open or not value.expanded:
            return shown(quantity, value.value)
        return f"{units.shown(quantity, value.value)} ± {width_shown(quantity, value.expanded)}"
    if value == float("inf"):
        return "open line"
    return units.shown(quantity, value)


def width_shown(quantity: str, width: float) -> str:
    """An uncertainty of a quantity for people: of a temperature in kelvin, of a pressure without gauge or absolute."""
    text = units.shown("temperature_difference" if quantity == "temperature" else quantity, width)
    return text.replace("psig", "psi").replace("psia", "psi")


def quantity(
    name: str,
    kind: str,
    about: str,
    default: Value = None,
    *,
    optional: bool = False,
    open_line: bool = False,
    said_in: str = "",
    spoken: tuple[str, ...] = (),
    instrument: str = "",
    accuracy: str = "",
) -> Parameter:
    """A parameter that is a number."""
    return Parameter(name, kind, about, default, optional, (), open_line, said_in, spoken, instrument, accuracy)


def word(
    name: str, about: str, choices: tuple[str, ...], default: str | None = None, optional: bool = False
) -> Parameter:
    """A parameter that is one of a closed list of words."""
    return Parameter(name, WORD, about, default, optional, choices)
