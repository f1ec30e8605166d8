"""A message: what is to be told, as an id and values. Its words stand in ``grammars/messages``, a file a subject.

Whoever decides what to say makes a message; the edge (voice, record, screen) puts it into words. The journal keeps
both, so that an old visit can be worded anew, in another language or wording.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Annotated, Literal

from pydantic import Field

from assistant.model import Model


class Ref(Model):
    """A text that stands in the knowledge: ``field`` of the item ``id`` of the kind ``of``.

    ``of`` is an attribute of ``Library`` ("checks", "suspects", "symptoms", ...); ``field`` a dotted path
    inside the item ("why", "repair.say", "ask.voltage.say", "outcomes.done.means").
    """

    kind: Literal["ref"] = "ref"
    of: str
    id: str
    field: str


class Amount(Model):
    """A measured or computed quantity: ``value`` in the unit that ``quantity`` has inside, told in ``unit``.

    Both are names of ``assistant.quantities``; ``unit`` is a symbol of the quantity.
    """

    kind: Literal["amount"] = "amount"
    quantity: str
    value: float
    unit: str


class Message(Model):
    """``id`` names a message of the catalogue; ``values`` fill it in.

    They are numbers, amounts, names (that a message may choose by), texts of the knowledge, and other messages.
    """

    kind: Literal["message"] = "message"
    id: str
    values: tuple[tuple[str, Value], ...] = ()


Value = Annotated[str | int | float | Ref | Amount | Message | None, Field(union_mode="smart")]
Message.model_rebuild()


def message(id: str, /, **values: Value) -> Message:
    """``message("wait-more", span="3 minutes")``."""
    return Message(id=id, values=tuple(values.items())) if values else _alone(id)


@lru_cache(maxsize=1024)
def _alone(id: str) -> Message:
    """A message without values: one for all that say it."""
    return Message(id=id)


def percent(value: float) -> Amount:
    """A share in percent."""
    return Amount(quantity="percent", value=value, unit="%")


def listed(items: Sequence[Value]) -> Value:
    """The items one after another with commas."""
    if not items:
        return None
    *others, last = items
    return message("listed", first=listed(others), last=last) if others else last


@lru_cache(maxsize=4096)
def known(of: str, id: str, field: str) -> Ref:
    """A text of the knowledge: ``known("checks", "prove-dead", "why")``."""
    return Ref(of=of, id=id, field=field)


#: A reason as a message; in visits older than the catalogue of messages in the words that were spoken.
Why = Message | str
