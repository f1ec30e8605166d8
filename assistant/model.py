"""The base of every typed value that crosses a folder or is written to the journal."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Self

from pydantic import BaseModel, ConfigDict


class Model(BaseModel):
    """Immutable, exact: an unknown or misspelt field is an error, never ignored."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    def model_copy(self, *, update: Mapping[str, Any] | None = None, deep: bool = False) -> Self:
        """As pydantic's, and like it without a look at ``update``; four times as fast, for a turn makes hundreds.

        A model of ours has neither private nor additional attributes, so that its fields are all there is to copy.
        """
        if deep:
            return super().model_copy(update=update, deep=True)
        changes = update or {}
        made = object.__new__(type(self))
        object.__setattr__(made, "__dict__", {**self.__dict__, **changes})
        object.__setattr__(made, "__pydantic_fields_set__", self.__pydantic_fields_set__ | changes.keys())
        object.__setattr__(made, "__pydantic_extra__", None)
        object.__setattr__(made, "__pydantic_private__", None)
        return made
