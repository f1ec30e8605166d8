"""The base of every typed value that crosses a folder or is written to the journal."""

from pydantic import BaseModel, ConfigDict


class Model(BaseModel):
    """Immutable, exact: an unknown or misspelt field is an error, never ignored."""

    model_config = ConfigDict(frozen=True, extra="forbid")
