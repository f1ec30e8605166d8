"""The record's lines of the job: parts, refrigerant, duties, signatures, photos, amendments."""

from __future__ import annotations

from typing import Literal

from pydantic import AwareDatetime

from assistant.model import Model


class PartLine(Model):
    """A part that was fitted. ``source``: where it came from ("the van")."""

    at: AwareDatetime
    name: str
    count: float = 1
    source: str = ""


class MoveLine(Model):
    """Refrigerant taken out of the circuit or put in, kg; ``said`` as it was said."""

    at: AwareDatetime
    kind: Literal["recovered", "charged"]
    kg: float
    said: str = ""
    cylinder: str = ""


class DutyLine(Model):
    """What the law or the maker asks for next. ``due`` as an ISO date; ``article`` where it stands."""

    what: str
    due: str = ""
    article: str = ""


class SignatureLine(Model):
    """Who signed, as what, and when. ``drawing``: a PNG as data URI, empty where it is named only."""

    at: AwareDatetime
    name: str
    role: Literal["customer", "technician"]
    drawing: str = ""


class PhotoLine(Model):
    """A photo of the visit. ``image``: a JPEG as data URI, empty where it was only said that one was taken."""

    at: AwareDatetime
    caption: str
    image: str = ""


class Amendment(Model):
    """A correction made after the visit was closed; the old stands beside it."""

    at: AwareDatetime
    who: str
    why: str
    about: str
    what: str
    was: str
    now: str
    value: float | None = None
    unit: str = ""
