"""Numbers as the judges see them: readings with their accuracy, limits with their source, both canonical."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Protocol

from assistant.calculations.found import Limit as Bound
from assistant.calculations.uncertainty import Accuracy, Metered
from assistant.language.meaning import CANONICAL_UNIT, Quantity, Reading
from assistant.language.units import from_canonical, of_its_size, say, to_canonical
from assistant.library.models import Check, Figure, Instrument, Limit, Question
from assistant.library.profile import UnitProfile
from assistant.messages.catalogue import plain
from assistant.messages.message import Amount, Message, Ref, message
from assistant.messages.message import known as text_of
from assistant.quantities.spelling import unit_in_name


class Shelf(Protocol):
    """The part of the loaded library that judges read."""

    @property
    def instruments(self) -> Mapping[str, Instrument]: ...

    def source_text(self, source_id: str) -> str:
        """A source as it is printed in a record."""


@dataclass(frozen=True)
class Measured:
    """One reading: ``value`` canonical (None: no number), ``open`` an open line, ``span`` of a jumping display.

    ``shown`` is the unit it is spoken in, ``place`` the name of its place or "" (``at``: where the knowledge has it),
    ``place_id`` its id, ``meter`` the id of its instrument.
    """

    quantity: Quantity
    value: float | None
    open: bool
    span: tuple[float, float] | None
    shown: str
    place: str
    place_id: str
    accuracy: Accuracy
    meter: str = ""
    at: Ref | None = None

    @property
    def there(self) -> bool:
        """There is a number, or the display shows an open line."""
        return self.open or self.value is not None

    @property
    def metered(self) -> Metered:
        """The reading as the calculations take it: an open line is infinite, a jumping display unsteady."""
        half = (self.span[1] - self.span[0]) / 2 if self.span else 0.0
        return Metered(math.inf if self.open else self.number, self.accuracy, self.meter, half)

    @property
    def number(self) -> float:
        """The value where there is one; callers ask ``value is None`` first."""
        if self.value is None:
            raise ValueError("a reading without a number")
        return self.value

    def spoken(self, value: float | None = None) -> str:
        """The value, or another of the same quantity, in the unit it was read in."""
        if value is None and self.open:
            return "an open line"
        return spoken(self.value if value is None else value, self.shown, self.quantity)

    def amount(self, value: float | None = None) -> Amount | Message:
        """The value, or another of the same quantity, to be told in the unit it was read in."""
        if value is None and self.open:
            return message("an-open-line")
        value = self.value if value is None else value
        return message("no-number") if value is None else Amount(quantity=self.quantity, value=value, unit=self.shown)

    def width(self, amount: float) -> str:
        """An uncertainty of this quantity in the unit the reading is spoken in."""
        zero = from_canonical(0.0, self.shown, self.quantity)
        number = abs(from_canonical(amount, self.shown, self.quantity) - zero)
        return f"{plain(number)} {say(self.shown, self.quantity, number)}".strip()


@dataclass(frozen=True)
class Known:
    """A limit in canonical units with the readable text of its source. ``general``: not this unit's own figure."""

    value: float
    quantity: Quantity
    source: str
    general: bool

    @property
    def bound(self) -> Bound:
        """The limit as the calculations take it, with its source."""
        return Bound(self.value, self.source, self.general)

    def unit(self, shown: str) -> str:
        """The unit to tell the limit in beside a reading told in ``shown``: that, or one that fits its size."""
        return of_its_size(self.value, shown, self.quantity)

    def amount(self, shown: str | None = None) -> Amount:
        """The limit, to be told in the unit ``shown`` (default canonical)."""
        return Amount(quantity=self.quantity, value=self.value, unit=shown or CANONICAL_UNIT[self.quantity])

    def spoken(self, shown: str | None = None) -> str:
        """The limit in the unit ``shown`` (default canonical)."""
        return spoken(self.value, shown or CANONICAL_UNIT[self.quantity], self.quantity)


def spoken(value: float | None, unit: str, quantity: Quantity) -> str:
    """A canonical value as words and digits in ``unit``, three figures: "1.9 ohms", "10.2 kilohms"."""
    if value is None:
        return "no number"
    number = from_canonical(value, unit, quantity)
    return f"{plain(number)} {say(unit, quantity, number)}".strip()


def measured(reading: Reading, check: Check, question: Question, instruments: Mapping[str, Instrument]) -> Measured:
    """A reading with the accuracy of the instrument that its question names (exact when that is unknown)."""
    expected = question.reading
    place = next((c.in_writing for c in expected.places if c.id == reading.place), "") if expected else ""
    named = f"ask.{question.key}.reading.places.{reading.place}.in_writing"
    unit = reading.spoken_unit or (expected.unit if expected else CANONICAL_UNIT[reading.quantity])
    instrument = instruments.get(expected.instrument) if expected else None
    value = reading.value
    if value is None and reading.span is not None:
        value = sum(reading.span) / 2
    return Measured(
        quantity=reading.quantity,
        value=value,
        open=reading.special == "open_line",
        span=reading.span,
        shown=_shown(unit, value, reading.quantity),
        place=place,
        at=text_of("checks", check.id, named) if place else None,
        place_id=reading.place or "",
        accuracy=accuracy_of(instrument, reading.quantity),
        meter=instrument.id if instrument else "",
    )


def _shown(unit: str, value: float | None, quantity: Quantity) -> str:
    """The unit spoken, unless the number would then be unspeakable (0.00012 megohms)."""
    if quantity == "resistance" and value:
        for symbol, least in (("Mohm", 1e6), ("kohm", 1e3)):
            if value >= least:
                return symbol
        return "ohm"
    return unit


def accuracy_of(instrument: Instrument | None, quantity: Quantity) -> Accuracy:
    """An instrument's accuracy with its offset in the canonical unit of ``quantity``."""
    if instrument is None:
        return Accuracy()
    unit = instrument.unit

    def size(amount: float) -> float:
        return abs(to_canonical(amount, unit, quantity) - to_canonical(0.0, unit, quantity))

    own = None if instrument.own is None else size(instrument.own)
    return Accuracy(instrument.percent_of_reading, size(instrument.offset), own, size(instrument.resolution))


def known(limit: Limit, quantity: Quantity, profile: UnitProfile | None, shelf: Shelf) -> Known | None:
    """A limit as a canonical value of ``quantity``; None when the profile has no figure and there is no other.

    Raises UnitError when the figure's unit does not belong to ``quantity``.
    """
    if isinstance(limit, Figure):
        return _figure(limit, quantity, shelf, general=False)
    value, unit = profile_value(profile, limit.profile)
    if value is not None and profile is not None:
        source = f"{profile.make} {profile.model}: {profile.source}" if not profile.general else profile.source
        unit = "1" if quantity == "count" else unit  # a rate, which no meter shows
        return Known(to_canonical(value, unit, quantity), quantity, source, profile.general)
    return None if limit.otherwise is None else _figure(limit.otherwise, quantity, shelf, general=True)


def _figure(figure: Figure, quantity: Quantity, shelf: Shelf, general: bool) -> Known:
    value = to_canonical(figure.value, figure.unit, quantity)
    return Known(value, quantity, shelf.source_text(figure.source), general)


def profile_value(profile: UnitProfile | None, path: str) -> tuple[float | None, str]:
    """The number at a dotted path of the profile and its unit by the name of the field; (None, "") when not there.

    A part may name a field, a key of a mapping, or a place in a list: "indoor_fan.control_span_v.0".
    """
    here: Any = profile
    unit = ""
    for part in path.split("."):
        here = _step(here, part)
        if here is None:
            return None, ""
        unit = unit_in_name(part) or unit
    return (float(here), unit or "1") if isinstance(here, int | float) else (None, "")


def _step(here: Any, part: str) -> Any:
    if isinstance(here, Mapping):
        return here.get(part)
    if isinstance(here, tuple) and part.isdigit():
        return here[int(part)] if int(part) < len(here) else None
    return getattr(here, part, None)
