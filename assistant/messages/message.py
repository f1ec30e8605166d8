"""A message: what is to be told, as an id and values. Its words stand in ``grammars/messages``, a file a subject.

Whoever decides what to say makes a message; the edge (voice, record, screen) puts it into words. The journal keeps
both, so that an old visit can be worded anew, in another language or wording.
"""

from __future__ import annotations

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


class Message(Model):
    """``id`` names a message of the catalogue; ``values`` fill it in: numbers, names, knowledge, other messages."""

    kind: Literal["message"] = "message"
    id: str
    values: tuple[tuple[str, Value], ...] = ()


Value = Annotated[str | int | float | Ref | Message | None, Field(union_mode="smart")]
Message.model_rebuild()


def message(id: str, /, **values: Value) -> Message:
    """``message("wait-more", span="3 minutes")``."""
    return Message(id=id, values=tuple(values.items()))


def known(of: str, id: str, field: str) -> Ref:
    """A text of the knowledge: ``known("checks", "prove-dead", "why")``."""
    return Ref(of=of, id=id, field=field)


#: A reason as a message; in visits older than the catalogue of messages in the words that were spoken.
Why = Message | str
