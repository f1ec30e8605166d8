"""Limits that protect people stand in code: no profile and no knowledge file moves them."""

import shutil

import pytest

from assistant.data.places import data_folder
from assistant.dialogue.energy import Stored
from assistant.dialogue.waiting import discharge_wait
from assistant.language.meaning import Finding, Reading, Readings
from assistant.library.bounds import DEAD_AT_MOST_V, LONGEST_WAIT_S, SHORTEST_REST_S, SHORTEST_WAIT_S
from assistant.library.loader import load
from assistant.library.profile import UnitProfile
from assistant.reasoning.judges import judge
from assistant.reasoning.judges.case import Answer


def altered(tmp_path, *changes):
    """The shipped knowledge with texts in ``procedures.yaml`` replaced."""
    folder = shutil.copytree(data_folder("knowledge"), tmp_path / "knowledge")
    file = folder / "procedures.yaml"
    text = file.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    file.write_text(text, encoding="utf-8")
    return load(folder, tmp_path / "nobody")


def proved_dead(library, volts, profile):
    reading = Reading(quantity="voltage_dc", value=volts, spoken_value=volts, spoken_unit="V")
    answers: dict[str, Answer] = {"voltage": Readings(items=(reading,)), "tried": Finding(choice="yes")}
    judgement = judge(library.checks["prove-dead"], answers, library, profile)
    return judgement.outcome == "dead"


LIMIT = (
    "stored_below: &dc-dead\n          profile: bus.dead_below_v\n"
    "          otherwise: {value: 30, unit: V, source: iec-60364-4-41}"
)


@pytest.mark.parametrize("limit", [31, 60, 300, 1e6])
@pytest.mark.parametrize("volts", [-290.0, 30.0, 31.0, 45.0, 290.0])
def test_knowledge_that_calls_more_dead_is_not_obeyed(tmp_path, limit, volts):
    library = altered(tmp_path, (LIMIT, f"stored_below: &dc-dead {{value: {limit}, unit: V, source: iec-60364-4-41}}"))
    assert not proved_dead(library, volts, None)
    assert proved_dead(library, 2.0, None)


def test_a_profile_that_came_past_its_model_is_not_obeyed():
    library = load()
    profile = library.profiles["copper-wren-solo"]
    bus = profile.bus.model_copy(update={"dead_below_v": 300.0})
    assert not proved_dead(library, 290.0, profile.model_copy(update={"bus": bus}))


def test_a_lower_limit_counts_as_it_is(tmp_path):
    library = altered(tmp_path, (LIMIT, "stored_below: &dc-dead {value: 12, unit: V, source: iec-60364-4-41}"))
    assert not proved_dead(library, 20.0, None)
    assert DEAD_AT_MOST_V == 30


def wait_s(profile: UnitProfile, volts: float | None = None) -> float:
    """The wait from the start, or after so many volts were measured."""
    return discharge_wait(profile, () if volts is None else (Stored(place="outdoor", volts=volts, at_s=0),)).seconds


def test_no_wait_is_shorter_or_longer_than_can_be():
    profile = load().profiles["copper-wren-solo"]
    quick = profile.bus.model_copy(update={"bleed_ohm": 1000.0, "capacitance_uf": 10.0})
    slow = profile.bus.model_copy(update={"bleed_ohm": 1e7, "capacitance_uf": 50_000.0})
    assert wait_s(profile.model_copy(update={"bus": quick})) == SHORTEST_WAIT_S
    assert wait_s(profile.model_copy(update={"bus": quick}), 31.0) == SHORTEST_REST_S
    assert wait_s(profile.model_copy(update={"bus": slow})) == LONGEST_WAIT_S
    assert wait_s(profile.model_copy(update={"bus": slow}), 300.0) == LONGEST_WAIT_S
    assert SHORTEST_WAIT_S < wait_s(profile) < LONGEST_WAIT_S
