"""A usable profile of one indoor unit in at most 25 answers, five more for each other: three makes."""

from __future__ import annotations

import pytest

from assistant.library.loader import Library
from assistant.library.profile import UnitProfile, features_of
from assistant.profiling.build import profile_of
from assistant.profiling.talk import Interview

#: As their nameplates and manuals would be read; "Nordwind" is invented here.
SHORT: dict[str, dict[str, str]] = {
    "copper-wren-solo": {
        "make": "Copper Wren", "model": "Solo", "source": "its manual", "supply": "two thirty", "hertz": "fifty",
        "refrigerant": "thirty two", "charge": "0.95 kg", "zones": "one", "curve": "ten k",
        "parts": "heat pump, display, remote, DC fans, service valves, expansion valve",
    },
    "lantern-hill-trio": {
        "make": "Lantern Hill", "model": "Trio", "source": "its manual", "supply": "two forty", "hertz": "sixty",
        "breaker": "25 amps", "refrigerant": "four fifty four b", "charge": "5 lb 12 oz", "added": "0.22 oz",
        "added_per": "each foot", "zones": "three", "zone_1": "kitchen", "curve": "five k", "hot_curve": "twenty k",
        "parts": "heat pump, display, remote, network adapter, float switch, condensate pump, trap",
    },
    "nordwind-nw": {
        "make": "Nordwind", "model": "NW", "source": "its manual", "supply": "two oh eight", "hertz": "sixty",
        "refrigerant": "four ten a", "charge": "2.1 kilograms", "zones": "two", "parts": "heat pump, valves",
    },
}  # fmt: skip


def _asked(library: Library, answers: dict[str, str]) -> tuple[UnitProfile, int]:
    """The profile and how many answers it took; what is not told is "not in the manual"."""
    interview, said = Interview(library), 0
    while (step := interview.step()) is not None:
        told = "later" if step.id == "enough" else answers.get(step.id, "it is not in the manual")
        words = "yes" if interview.doubtful is not None else told
        before = interview
        interview, reply = interview.say(words)
        said += 1
        assert interview != before, (step.id, words, reply)
        assert said < 60
    return profile_of(interview.answers), said


@pytest.mark.parametrize("unit", SHORT)
def test_a_usable_profile_in_few_answers(library: Library, unit: str) -> None:
    profile, said = _asked(library, SHORT[unit])
    assert said <= 25 + 5 * (len(profile.zones) - 1)
    assert {"charge-known", "heat-pump"} <= features_of(profile)


def test_what_was_said_is_what_is_kept(library: Library) -> None:
    """0.22 oz a foot is 6.237 g a foot, 20.46 g a meter; 5 lb 12 oz is 2.608 kg."""
    trio, _ = _asked(library, SHORT["lantern-hill-trio"])
    assert trio.refrigerant.added_g_per_m == pytest.approx(20.462, abs=0.01)
    assert trio.refrigerant.charge_kg == pytest.approx(2.608, abs=1e-3)
    assert trio.supply.frequency_hz == 60
    assert (trio.sensors["pipe"].r25_ohm, trio.sensors["discharge"].r25_ohm) == (5000, 20000)
    assert {"float-switch", "condensate-pump", "drain-trap", "network-adapter"} <= set(trio.features)
    solo, _ = _asked(library, SHORT["copper-wren-solo"])
    assert (solo.supply.frequency_hz, solo.sensors["room"].r25_ohm) == (50, 10000)
    assert "float-switch" not in solo.features


def test_more_of_the_manual_may_follow(library: Library) -> None:
    interview = Interview(library)
    answers = {**SHORT["copper-wren-solo"], "enough": "more", "winding": "one point three five"}
    for _ in range(100):
        step = interview.step()
        if step is None:
            break
        interview, _ = interview.say("yes" if interview.doubtful is not None else answers.get(step.id, "skip"))
    profile = profile_of(interview.answers)
    assert profile.compressor is not None
    assert not [step for step, _ in interview.given if step.startswith("has_")]
