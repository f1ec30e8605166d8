"""What is far from an earlier reading of the same thing is asked back before it is recorded."""

import pytest


@pytest.fixture
def supplied(diagnosing):
    """The supply was read at rest; now it is to be read at rest and under load, at the same terminals."""
    diagnosing.command("check", "supply-volts")
    diagnosing.understood()
    diagnosing.read(230.0)
    diagnosing.command("check", "supply-drop")
    diagnosing.understood()
    assert diagnosing.question == "supply-drop.idle"
    return diagnosing


@pytest.mark.parametrize("volts", [152.0, 300.0])
def test_a_reading_far_from_the_one_before_is_asked_back(supplied, volts):
    supplied.read(volts)
    assert supplied.question == "confirm"
    assert supplied.says[0] == "It was 230 V before."
    supplied.choose("no")
    assert supplied.question == "supply-drop.idle"
    assert supplied.state.run.answers == ()


def test_what_is_confirmed_or_near_it_is_taken(supplied):
    supplied.read(152.0)
    supplied.choose("yes")
    assert supplied.question == "supply-drop.loaded"
    supplied.command("go-back")
    supplied.read(224.0)
    assert supplied.question == "supply-drop.loaded"


def test_it_holds_in_either_order(diagnosing):
    diagnosing.command("check", "supply-drop")
    diagnosing.understood()
    diagnosing.read(229.0)
    diagnosing.read(225.0)
    diagnosing.command("check", "supply-volts")
    diagnosing.understood()
    diagnosing.read(115.0)
    assert diagnosing.question == "confirm"
