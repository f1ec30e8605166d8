"""The visit itself: what was heard and said, where and for whom, and how it goes on."""

from __future__ import annotations

from typing import Literal

from assistant.language.meaning import Heard
from assistant.messages.message import Message
from assistant.model import Model


class VisitOpened(Model):
    """First fact of a visit. ``library`` identifies the knowledge used, ``on`` is the visit's day (ISO 8601)."""

    kind: Literal["visit-opened"] = "visit-opened"
    library: str
    technician: str = ""
    on: str = ""


class Reopened(Model):
    """The visit was cut short and goes on."""

    kind: Literal["reopened"] = "reopened"


class TimeReached(Model):
    """A wait came to its end without words."""

    kind: Literal["time-reached"] = "time-reached"


class WordsHeard(Model):
    """One utterance as the ears judged it, whatever came of it."""

    kind: Literal["words-heard"] = "words-heard"
    heard: Heard


class Said(Model):
    """One spoken reply. ``about`` is caution, result, instruction, question or remark.

    ``text`` is what was spoken, ``message`` what it means (None in visits older than the catalogue of messages).
    """

    kind: Literal["said"] = "said"
    text: str
    about: str
    message: Message | None = None


class Noted(Model):
    """Something about the visit: site, profile, zone, repair, customer ..."""

    kind: Literal["noted"] = "noted"
    topic: str
    value: str
    words: str = ""


class AltitudeAsked(Model):
    """The altitude of the site was asked for; the note of it is the answer."""

    kind: Literal["altitude-asked"] = "altitude-asked"


class SystemSettled(Model):
    """Numbers without a unit are in this system of measurement from here on."""

    kind: Literal["system-settled"] = "system-settled"
    system: Literal["us", "si"]


class IndicationNoted(Model):
    """What the unit shows. ``shown`` is the maker's own display text where the profile knows it."""

    kind: Literal["indication-noted"] = "indication-noted"
    symptom: str
    shown: str = ""
    words: str = ""


class StageEntered(Model):
    kind: Literal["stage-entered"] = "stage-entered"
    stage: str


class ConfirmationAsked(Model):
    """Read back and asked "right?"; nothing is recorded until it is settled."""

    kind: Literal["confirmation-asked"] = "confirmation-asked"
    heard: Heard


class ConfirmationSettled(Model):
    kind: Literal["confirmation-settled"] = "confirmation-settled"
    right: bool


class Held(Model):
    """ "wait" or "stop": nothing is taken for an answer until "carry on". ``at_s``: the visit's time when it began."""

    kind: Literal["held"] = "held"
    by: str
    at_s: float | None = None


class Released(Model):
    kind: Literal["released"] = "released"


class CorrectionAsked(Model):
    """ "correction" alone: the next answer replaces this one."""

    kind: Literal["correction-asked"] = "correction-asked"
    number: int


class Misheard(Model):
    """An utterance could not be used; counted so that the third one offers help.

    ``refused``: it was understood, but is not what instrument and place can give.
    """

    kind: Literal["misheard"] = "misheard"
    refused: bool = False


class StepRemembered(Model):
    """A step begins here that "go back" may return to."""

    kind: Literal["step-remembered"] = "step-remembered"


class WentBack(Model):
    """The last answered step is taken back. The energy state never becomes safer by it."""

    kind: Literal["went-back"] = "went-back"


class VoiceSet(Model):
    """How the assistant speaks from now on: ``pace`` and ``volume`` as shares of the usual."""

    kind: Literal["voice-set"] = "voice-set"
    pace: float
    volume: float


class SlowerAsked(Model):
    """As journals from before VoiceSet have it."""

    kind: Literal["slower-asked"] = "slower-asked"


class FinishAsked(Model):
    """ "finish": asks once before the visit is closed; ``asking`` false takes it back."""

    kind: Literal["finish-asked"] = "finish-asked"
    asking: bool


class CalculationMade(Model):
    """A sum asked aloud, with its numbers, for the record."""

    kind: Literal["calculation-made"] = "calculation-made"
    name: str
    formula: str
    numbers: str
    result: str
    source: str


#: How a search ends.
Outcome = Literal["mended", "repaired, not proved", "not mended", "nothing found"]


class VisitClosed(Model):
    """The visit is over. ``left`` says first of all how the unit is left where it is not as usual: barred, locked out
    and not proved dead, apart, its circuit open or empty."""

    kind: Literal["visit-closed"] = "visit-closed"
    outcome: Outcome | str  # or how the course ends
    left: tuple[Message, ...] = ()


class Amended(Model):
    """Something was put right after the visit was closed. Nothing is taken away: the record shows both.

    ``about``: "answer:12", "site", "technician", "repair", "customer"; ``was`` and ``now`` as people read them,
    ``value`` in ``unit`` where ``now`` is a number with its unit.
    """

    kind: Literal["amended"] = "amended"
    about: str
    was: str
    now: str
    who: str
    why: str
    value: float | None = None
    unit: str = ""


class Signed(Model):
    """Somebody signed for the visit: by name, or with a drawing (a PNG as data URI) besides."""

    kind: Literal["signed"] = "signed"
    name: str
    role: Literal["customer", "technician"] = "customer"
    drawing: str = ""


class PhotoKept(Model):
    """A photo was put to the visit. ``image``: a JPEG as data URI, scaled down."""

    kind: Literal["photo-kept"] = "photo-kept"
    caption: str
    image: str
