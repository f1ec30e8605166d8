"""Starting weights of the suspects that a person has reviewed (``ladderside insights --learn`` writes them).

They stand in the user's data folder as ``weights.yaml`` and count only with a name after ``reviewed_by``. A suspect
that was struck out of the file keeps the library's weight. They order the search; no part is condemned by them alone
(``reasoning/conclusion.py``).
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated

from pydantic import Field

from assistant.library.kinds import Slug
from assistant.library.models import Suspect
from assistant.model import Model

FILE = "weights.yaml"

Share = Annotated[float, Field(gt=0, lt=1)]


class OwnWeight(Model):
    """A suspect's share of all starting weight, before and after, how often it was confirmed, and 95 % of the share."""

    suspect: Slug
    before: Share
    after: Share
    confirmed: Annotated[int, Field(ge=0)]
    interval_95: tuple[float, float]


class MadeFrom(Model):
    """What it was made from: proved repairs, and how many of them the library's own opinion was worth."""

    proved_repairs: Annotated[int, Field(gt=0)]
    library_worth_repairs: Annotated[float, Field(gt=0)]


class OwnWeights(Model):
    """The file."""

    reviewed_by: str = ""
    made_from: MadeFrom
    weights: Annotated[tuple[OwnWeight, ...], Field(max_length=2000)]


def weighed(suspects: Mapping[str, Suspect], own: OwnWeights) -> dict[str, Suspect]:
    """The suspects with the reviewed weights, on the library's scale; as they were without a reviewer's name."""
    if not own.reviewed_by.strip():
        return dict(suspects)
    whole = sum(suspect.weight for suspect in suspects.values())
    new = {line.suspect: line.after * whole for line in own.weights}
    return {
        name: suspect.model_copy(update={"weight": new.get(name, suspect.weight), "library_weight": suspect.weight})
        for name, suspect in suspects.items()
    }
