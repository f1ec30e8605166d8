"""What words can mean, and what a question expects to hear.

``Expectation`` goes from the dialogue to hearing and language; ``Heard`` comes back. These two are
the whole contract between the ears and the dialogue.
"""

from __future__ import annotations

from typing import Annotated, Literal, get_args

from pydantic import Field

from assistant.job.ledger import Entry
from assistant.model import Model
from assistant.quantities.table import QUANTITIES

#: Every quantity that a reading can have. The table of quantities knows more, which calculations alone use.
Quantity = Literal[
    "resistance",
    "voltage_ac",
    "voltage_dc",
    "current",
    "power",
    "frequency",
    "capacitance",
    "temperature",
    "temperature_difference",
    "pressure_gauge",
    "vacuum",
    "humidity",
    "mass",
    "length",
    "duration",
    "speed",
    "airflow",
    "percent",
    "count",
]

#: With the unit in which its ``value`` is kept inside.
CANONICAL_UNIT: dict[str, str] = {quantity: QUANTITIES[quantity].inside.symbol for quantity in get_args(Quantity)}


class Reading(Model):
    """One measured quantity as it was said.

    ``value`` is in the canonical unit of ``quantity`` (``None`` when the meter shows no number).
    ``span`` holds low and high, canonical, when the display jumps between two values.
    ``spoken_value``/``spoken_unit`` keep what was said; ``unit_assumed`` is true when no unit was said.
    ``place`` is one of the expectation's place ids, or ``None`` when no place was named.
    """

    quantity: Quantity
    value: float | None
    spoken_value: float | None
    spoken_unit: str
    unit_assumed: bool = False
    special: Literal["open_line", "unstable", "no_reading"] | None = None
    span: tuple[float, float] | None = None
    place: str | None = None
    words: str = ""


class Readings(Model):
    """One or more readings said in one breath, in the order said."""

    kind: Literal["readings"] = "readings"
    items: tuple[Reading, ...]


class Finding(Model):
    """An answer that is not a number: the id of one of the expectation's choices ("yes", "no", ...)."""

    kind: Literal["finding"] = "finding"
    choice: str


class Indication(Model):
    """What the unit shows or how it behaves: the id of one of the expectation's choices."""

    kind: Literal["indication"] = "indication"
    choice: str


class Text(Model):
    """Free words: a name, a note, what was repaired."""

    kind: Literal["text"] = "text"
    words: str


class Command(Model):
    """A request to the assistant itself. ``argument`` is free (a check or component id for "check")."""

    kind: Literal["command"] = "command"
    name: str
    argument: str = ""


class Correction(Model):
    """ "correction, ..." or "no, four point eight": replaces the last answer, or that of the named place."""

    kind: Literal["correction"] = "correction"
    meaning: Readings | Finding | Text | None = None


class Calculation(Model):
    """A sum asked aloud: ``name`` of a calculation and its named readings, e.g. superheat."""

    kind: Literal["calculation"] = "calculation"
    name: str
    values: tuple[tuple[str, Reading], ...] = ()


#: Why a check cannot be answered: nobody knows, it cannot be seen or reached, the instrument is missing, it is to be
#: done later, or this unit has no such part.
CannotReason = Literal["dont-know", "cant-see", "cant-reach", "no-meter", "not-now", "not-there"]

#: What is asked back: which pins, where a part is, what should be read, what is normal, what a word means, how sure
#: the assistant is, what was said before, what is ruled out, how long it takes, how it is done, with which tool, and
#: whether the power is to be on.
BackTopic = Literal[
    "which-pins",
    "where-is-it",
    "expected-value",
    "what-is-normal",
    "what-is-that",
    "how-sure",
    "what-did-i-say",
    "ruled-out",
    "how-long",
    "how-do-i",
    "which-tool",
    "is-power-needed",
]

#: What goes before everything else.
EmergencyKind = Literal["shock", "fire", "smoke", "gas-alarm", "person-down", "burning-smell", "burn", "leak-in-room"]


class Cannot(Model):
    """The question cannot be answered, and why."""

    kind: Literal["cannot"] = "cannot"
    reason: CannotReason


class BackQuestion(Model):
    """A question to the assistant. ``argument`` is the place or the question that was named: "u-v" in "what did I say
    for U to V"; empty: the present one."""

    kind: Literal["back-question"] = "back-question"
    topic: BackTopic
    argument: str = ""


class Emergency(Model):
    """Someone is in danger."""

    kind: Literal["emergency"] = "emergency"
    what: EmergencyKind


class ToldAnswer(Model):
    """A finding or a reading of a check that was not asked for. ``question`` is its key: "filter-look.filter"."""

    kind: Literal["told-answer"] = "told-answer"
    question: str
    answer: Readings | Finding


ToldFact = Annotated[Indication | ToldAnswer, Field(discriminator="kind")]


class Told(Model):
    """Facts told unasked, and the answer to the present question where one was given with them."""

    kind: Literal["told"] = "told"
    answer: Readings | Finding | Indication | None = None
    facts: tuple[ToldFact, ...] = ()


class LedgerSaid(Model):
    """Something to be noted in the ledger. ``corrects``: it replaces the last entry of its kind."""

    kind: Literal["ledger"] = "ledger"
    entry: Entry
    corrects: bool = False


Meaning = Annotated[
    Readings
    | Finding
    | Indication
    | Text
    | Command
    | Correction
    | Calculation
    | Cannot
    | BackQuestion
    | Emergency
    | Told
    | LedgerSaid,
    Field(discriminator="kind"),
]


class Choice(Model):
    """One allowed answer: an id and the phrases that mean it (lower case, no punctuation).

    ``offered``: it is named among what may be answered; what is not is understood all the same.
    """

    id: str
    phrases: tuple[str, ...]
    offered: bool = True

    @property
    def said(self) -> str:
        """The first phrase: how it is named when it is read back."""
        return self.phrases[0]

    @property
    def in_writing(self) -> str:
        """The first phrase, terminals as capital letters: "U to V"."""
        said = self.phrases[0].split()
        return " ".join(word.upper() if len(word) == 1 and word != "a" else word for word in said)


class ReadingExpectation(Model):
    """The reading(s) that a question asks for. ``plausible`` bounds are canonical, inclusive."""

    quantity: Quantity
    unit: str  # assumed when none is said, e.g. "kohm"
    plausible: tuple[float, float]
    #: place id and the ways to say it, in the order asked, e.g. ("u-v", ("u to v", "u v")). Empty: one reading.
    places: tuple[Choice, ...] = ()
    #: the meter may honestly show no number
    open_line: bool = False


class Expectation(Model):
    """What the dialogue's present question may be answered with; commands are always understood too.

    ``question`` is a stable key such as ``pipe-sensor-resistance.resistance``: recorded visits answer by it.
    Any of ``reading``, ``choices`` and ``text`` may be set together; ``choice_kind`` says whether the
    choices are findings or indications. ``checks`` are the components and checks that "check the ..." may name.
    """

    question: str
    reading: ReadingExpectation | None = None
    choices: tuple[Choice, ...] = ()
    choice_kind: Literal["finding", "indication"] = "finding"
    #: the choices are names of things: one that is named in a longer sentence is meant
    names: bool = False
    #: the choice that is meant by "all good", "looks fine": the only good one; "" where there are none or several
    good: str = ""
    text: bool = False
    checks: tuple[Choice, ...] = ()
    #: what "correction, ..." would replace: the reading or the choices of the last answered question
    corrects: ReadingExpectation | None = None
    corrects_choices: tuple[Choice, ...] = ()
    #: a heading in the state's words that helps a free-text ear, e.g. "Resistance in ohms, U to V."
    topic: str = ""


class Interpretation(Model):
    """What language made of some words. ``meaning`` is None when nothing fitted.

    ``doubt`` says in one short sentence what is not certain ("no unit was said", "two fifty may be 2.50")
    and makes the dialogue ask; ``alternatives`` are other meanings the same words could have.
    ``options`` are the two or three meanings of an either-or question, ``meaning`` the first of them; empty: it is no
    either-or. ``chance`` is the calibrated chance of ``meaning``. ``talk``: the words are surely not for the assistant.
    """

    words: str
    meaning: Meaning | None
    alternatives: tuple[Meaning, ...] = ()
    doubt: str = ""
    options: tuple[Meaning, ...] = ()
    chance: float = 1.0
    talk: bool = False


#: How far an utterance may be trusted.
Trust = Literal["sure", "confirm", "again"]


class Heard(Model):
    """One utterance, judged: what the ears hand to the dialogue.

    trust: "sure" may be recorded and read back; "confirm" must be read back and asked; "again" was not
    understood. ``probability`` is the calibrated chance that ``meaning`` is right. ``ears`` holds each ear's
    name and words. Typed words are "sure" with probability 1 unless language is in doubt.
    ``options``: what is to be asked as an either-or, ``meaning`` the first of them (then trust is "confirm").
    ``talk``: the words were heard, and surely are not for the assistant.
    ``poor_sound``: it was heard beside noise or through a narrow band.
    """

    words: str
    meaning: Meaning | None
    trust: Trust
    probability: float = 1.0
    runner_up: Meaning | None = None
    doubt: str = ""
    options: tuple[Meaning, ...] = ()
    talk: bool = False
    poor_sound: bool = False
    ears: tuple[tuple[str, str], ...] = ()
    start_s: float = 0.0
    end_s: float = 0.0
