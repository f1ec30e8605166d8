"""A profile by question and answer: as typed or spoken words, with slips, skips and going back."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.library.loader import Library, read_as
from assistant.library.profile import UnitProfile
from assistant.profiling.build import (
    IncompleteProfileError,
    as_yaml,
    profile_of,
    slug,
)
from assistant.profiling.draft import Draft
from assistant.profiling.talk import Interview, expectation

#: Only what is needed, then one of each kind; the rest is skipped.
ANSWERS = {
    "make": "Willow Bend",
    "model": "Duo Nine",
    "source": "service manual of the Duo",
    "supply": "two thirty",
    "running_current": "six point two amps",
    "refrigerant": "thirty two",
    "charge": "zero point nine five kilograms",
    "zones": "two",
    "zone_1": "kitchen",
    "has_heat-pump": "yes",
    "has_display": "no",
    "module": "on the main board",
    "pipe_25": "ten kilohms",
    "pipe_0": "thirty two point six",
    "pipe_50": "3600 ohms",
    "winding": "one point three five",
    "imbalance": "four percent",
    "indoor_fan_supply": "three hundred twenty volts",
    "indoor_fan_control": "fifteen",
    "indoor_fan_command_low": "one point five",
    "indoor_fan_command_high": "six",
    "indoor_fan_pulses": "four",
    "indoor_fan_rpm_low": "five hundred",
    "indoor_fan_rpm_high": "twelve hundred",
    "bus_uf": "thirteen sixty",
    "bleed": "eighty two kilohms",
    "high_opens": "forty two hundred kilopascals",
    "high_closes": "3200",
    "shown_1": "three blue blinks",
    "means_1": "hears nothing from outside",
    "symptom_1": "no communication",
}


def _answered(library: Library, answers: dict[str, str]) -> Interview:
    interview = Interview(library)
    for _ in range(400):
        step = interview.step()
        if step is None:
            return interview
        words = "yes" if interview.doubtful is not None else answers.get(step.id, "skip")
        interview, _ = interview.say(words)
    raise AssertionError(f"stuck at {interview.step()}")


def test_a_whole_interview_makes_a_profile(library: Library) -> None:
    profile = profile_of(_answered(library, ANSWERS).answers)
    assert profile.id == "willow-bend-duo-nine"
    assert profile.phrases == ("willow bend duo nine",)
    assert profile.supply.running_current_a == pytest.approx(6.2)
    assert profile.refrigerant.charge_kg == pytest.approx(0.95)
    assert [zone.name for zone in profile.zones] == ["kitchen", "zone two"]
    assert profile.features == ("heat-pump", "integrated-power-module")
    assert profile.sensors["pipe"].table == ((0, 32600), (25, 10000), (50, 3600))
    assert set(profile.sensors) == {"pipe"}
    assert profile.compressor is not None
    assert profile.compressor.imbalance_percent == 4
    assert profile.compressor.insulation_min_mohm == 1  # skipped: the model's default
    assert profile.indoor_fan is not None
    assert profile.indoor_fan.control_span_v == (1.5, 6)
    assert profile.bus is not None
    assert profile.bus.bleed_ohm == 82000
    assert profile.high_pressure_switch is not None
    assert profile.signal is None
    assert profile.indications[0].symptom == "no-communication"


def test_its_file_reads_back_the_same(library: Library, tmp_path: Path) -> None:
    profile = profile_of(_answered(library, ANSWERS).answers)
    file = tmp_path / "one.yaml"
    file.write_text(as_yaml(profile), encoding="utf-8")
    assert read_as(UnitProfile, file) == profile


@pytest.mark.parametrize("shipped", ["copper-wren-solo", "lantern-hill-trio"])
def test_every_profile_reads_back_the_same(library: Library, tmp_path: Path, shipped: str) -> None:
    file = tmp_path / "one.yaml"
    file.write_text(as_yaml(library.profiles[shipped]), encoding="utf-8")
    assert read_as(UnitProfile, file) == library.profiles[shipped]


def test_answers_are_read_back_and_bounds_are_said(library: Library) -> None:
    interview = Interview(library, tuple((key, "x") for key in ("make", "model", "said", "source", "supply", "hertz")))
    interview, reply = interview.say("nine thousand amps")
    assert "outside 0.1 to 200" in reply
    assert interview.step() is not None
    interview, reply = interview.say("six point two")
    assert reply == "6.2 amps."


def test_words_that_could_mean_two_numbers_are_asked(library: Library) -> None:
    whole = _answered(library, ANSWERS)
    until = [step for step, _ in whole.given].index("bus_uf")
    interview, reply = Interview(library, whole.given[:until]).say("thirteen sixty")
    assert reply == "I heard 1360 microfarads, right?"
    declined, reply = interview.say("no")
    assert "bus_uf" not in declined.answers
    assert reply == "Bus capacitors together, in microfarads?"
    confirmed, _ = interview.say("yes")
    assert confirmed.answers["bus_uf"] == 1360


def test_going_back_asks_again(library: Library) -> None:
    interview, _ = Interview(library).say("Willow Bend")
    interview, reply = interview.say("go back")
    assert reply == "Going back."
    step = interview.step()
    assert step is not None
    assert step.id == "make"


def test_what_is_needed_cannot_be_skipped(library: Library) -> None:
    interview, reply = Interview(library).say("skip")
    assert reply.startswith("This one is needed.")
    assert interview.given == ()


def test_nonsense_is_answered_with_help_and_changes_nothing(library: Library) -> None:
    before = Interview(library, tuple((key, "x") for key in ("make", "model", "said", "source")))
    after, reply = before.say("banana")
    assert after == before
    assert "two thirty" in reply


def test_every_step_has_an_expectation_that_its_own_kind_answers(library: Library) -> None:
    interview = Interview(library)
    seen = 0
    for _ in range(400):
        step = interview.step()
        if step is None:
            break
        asked = expectation(step)
        assert bool(asked.reading) + bool(asked.choices) + asked.text == 1
        assert len(step.say.split()) <= 25
        seen += 1
        interview, _ = interview.say(ANSWERS.get(step.id, "skip"))
    assert seen >= 50


def test_too_few_answers_are_told(library: Library) -> None:
    with pytest.raises(IncompleteProfileError, match="do not make a profile yet"):
        profile_of({"make": "Willow Bend"})


def test_a_draft_survives_being_stopped(library: Library, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LADDERSIDE_HOME", str(tmp_path))
    first = Draft.begin(library)
    first.say("Willow Bend")
    first.say("Duo Nine")
    again = Draft.begin(library)
    assert again.resumed == 2
    assert again.interview.answers == {"make": "Willow Bend", "model": "Duo Nine"}
    assert Draft.begin(library, afresh=True).resumed == 0


@pytest.mark.parametrize(("words", "made"), [("Föhn & Söhne 3", "fohn-sohne-3"), ("  ", "unit"), ("A--B", "a-b")])
def test_slugs(words: str, made: str) -> None:
    assert slug(words) == made
