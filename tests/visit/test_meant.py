"""Ordinary words by ear: what two writing ears mean alike is asked back, and nothing else."""

from __future__ import annotations

import pytest

from assistant.dialogue.scope import scope_at
from assistant.language.meaning import Command, Finding, Heard, Indication
from assistant.language.net import Net, default_net
from assistant.language.net.encoder import NetError
from assistant.language.scope import Scope
from assistant.library.loader import load
from assistant.visit.meant import as_meant


def scope(key: str) -> Scope:
    found = scope_at(key, load())
    assert found is not None
    return found


def heard(*written: str, trust: str = "again") -> Heard:
    ears = (("phoneme", "it is blocked"), *zip(("whisper", "moonshine"), written, strict=False))
    return Heard.model_validate({"words": "", "meaning": None, "trust": trust, "ears": ears})


@pytest.mark.parametrize(
    ("key", "written", "meaning"),
    [
        ("filter-look.filter", ("It's plugged solid.", "it is plugged solid with dog hair"), Finding(choice="blocked")),
        (
            "visit.indication",
            ("water runs down the wall", "Water running down the wall."),
            Indication(choice="water-down-wall"),
        ),
        ("any", ("What are my choices?", "what are my choices"), Command(name="what-can-i-say")),
    ],
)
def test_what_two_ears_mean_alike_is_asked_back(key, written, meaning) -> None:
    found = as_meant(heard(*written), scope(key), default_net)
    assert found.meaning == meaning
    assert found.trust == "confirm"


@pytest.mark.parametrize(
    ("key", "written"),
    [
        ("filter-look.filter", ("it's choked with dust", "it is spotless")),
        ("filter-look.filter", ("it's choked with dust",)),
        ("lock-out-power.state", ("my padlock is on it and it's dead", "my padlock is on it and it's dead")),
        ("supply-volts.voltage", ("two forty ish on the nose", "two forty ish on the nose")),
        ("any", ("there's smoke coming out of it", "there's smoke coming out of it")),
    ],
)
def test_nothing_else_comes_this_way(key, written) -> None:
    assert as_meant(heard(*written), scope(key), default_net).trust == "again"


def test_talk_of_both_ears_is_marked() -> None:
    assert as_meant(heard("how's the new baby", "how is the new baby"), scope("any"), default_net).talk


def test_what_the_ears_agreed_on_stays_and_loads_nothing() -> None:
    def loads() -> Net:
        raise AssertionError

    sure = heard("clear", "clear", trust="sure")
    assert as_meant(sure, scope("filter-look.filter"), loads) is sure


def test_without_its_model_nothing_is_meant() -> None:
    def lost() -> Net:
        raise NetError("missing")

    assert as_meant(heard("it is clear", "it is clear"), scope("filter-look.filter"), lost).trust == "again"
