"""Amounts in the visit's system of measurement, where nobody chose their unit."""

from __future__ import annotations

from assistant.messages.message import Amount, Message, Value
from assistant.quantities.systems import System
from assistant.quantities.table import QUANTITIES


def in_system(what: Message, system: System) -> Message:
    """``what`` with its amounts told in ``system``.

    One in another unit than the first of its quantity stays: it is told as it was read.
    """
    if system != "us":  # values are kept in the SI
        return what
    return what.model_copy(update={"values": tuple((name, _told(value, system)) for name, value in what.values)})


def _told(value: Value, system: System) -> Value:
    match value:
        case Message():
            return in_system(value, system)
        case Amount(quantity=quantity, unit=unit) if quantity in QUANTITIES:
            kind = QUANTITIES[quantity]
            if kind.beside and unit == kind.units[0].symbol:
                return value.model_copy(update={"unit": kind.beside})
    return value
