"""A code or a blinking lamp that nobody on site can read: the commonest complaint, and no reason to guess."""

from datetime import datetime

import pytest

from assistant.language.covering import particular
from assistant.language.meaning import Indication, Interpretation, Told
from assistant.library.loader import load
from assistant.visit.journal import Journal
from tests.job.technician import Technician

CODE, FAN, WATER = (Indication(choice=name) for name in ("fault-shown", "indoor-fan-indication", "water-indication"))
COVERS = {"fault-shown": frozenset({"indoor-fan-indication", "water-indication"})}


@pytest.fixture
def asked(tmp_path):
    who = Technician(Journal(tmp_path / "journal.sqlite"))
    who.arrive(datetime(2026, 5, 6, 9, 0))
    who.say("Mill Shop", "no profile", "two forty", "r thirty two")
    yield who
    who.leave()


@pytest.mark.parametrize("said", ["the light is blinking", "it's throwing a code", "lamps are flashing on the front"])
def test_it_is_taken_as_what_it_is_and_how_to_read_it_is_told(asked, said):
    replies = asked.say(said)
    assert asked.session.state.symptoms == ("fault-shown",)
    assert replies[:2] == [
        "It reports a fault that nobody has read yet.",
        "The manual, or a label in the panel, tells what it means. Say that in plain words when you know it.",
    ]
    asked.say("it just quit")
    assert asked.session.state.job.aside != "reports"  # that it reports something is known


def test_what_it_means_is_told_as_soon_as_it_is_known(asked):
    asked.say("it's throwing a code", "the manual says communication fault")
    assert asked.session.state.symptoms == ("fault-shown", "no-communication")


def test_a_dimming_lamp_is_another_thing(asked):
    asked.say("the lights in the house dim when it starts")
    assert asked.session.state.symptoms == ("lights-dim",)


def test_the_particular_stands_for_the_general():
    def told(meaning, *options):
        return particular(Interpretation(words="", meaning=meaning, options=options), COVERS)

    assert told(Told(answer=CODE, facts=(FAN,))).meaning == FAN
    assert told(Told(answer=CODE, facts=(FAN, WATER))).meaning == Told(answer=FAN, facts=(WATER,))
    assert told(CODE, CODE, FAN, Told(answer=CODE, facts=(FAN,))).options == ()
    assert told(CODE, CODE, FAN, WATER).options == (FAN, WATER)
    assert told(CODE).meaning == CODE


def test_each_suspect_shows_it_as_it_shows_its_own_report():
    library = load()
    code, fan = library.symptoms["fault-shown"], library.symptoms["indoor-fan-indication"]
    assert code.shown_by["indoor-fan-motor"] >= fan.shown_by["indoor-fan-motor"]
    assert "filter-clogged" not in code.shown_by or code.shown_by["filter-clogged"] < 0.5
