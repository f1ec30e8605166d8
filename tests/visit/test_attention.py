"""When speech is for the assistant, in each of the three ways to work."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.dialogue.commands import ALARMS, HOLDS, RELEASES, commands
from assistant.library.loader import load
from assistant.visit.attention import OPEN_S, Attention, Mode


def test_always_listening_takes_everything_until_a_hold():
    open_ears = Attention()
    assert open_ears.takes(5.0)
    assert not open_ears.takes(6.0, held=True)
    assert not open_ears.takes(6.0, "skip", held=True), "talk with the customer is not a command"
    assert open_ears.takes(6.0, "resume", held=True)


def test_a_press_is_good_for_one_answer():
    button = Attention(Mode.BUTTON)
    assert not button.takes(5.0)
    pressed = button.pressed(5.0)
    assert pressed.takes(6.0)
    assert pressed.takes(4.5), "pressed in the middle of the first word"
    assert not pressed.takes(2.0), "pressed at the end of somebody else's sentence"
    assert not pressed.takes(5.0 + OPEN_S), "and not for ever"
    assert not pressed.answered(8.0).takes(9.0)
    assert pressed.answered(8.0, asked_back=True).takes(8.0 + OPEN_S - 1), "say it again: no second press"
    assert pressed.talking(8.0).takes(8.0 + OPEN_S - 1), "a reply does not use up the time"
    assert not pressed.talking(5.0 + OPEN_S).takes(6.0 + OPEN_S), "and does not press the button"
    assert not pressed.pressed(6.0).takes(7.0), "pressed again: closed"


def test_a_call_opens_a_talk():
    quiet = Attention(Mode.PHRASE)
    assert not quiet.takes(5.0)
    assert not quiet.talking(5.0).takes(6.0), "a reply alone does not open the ears"
    called = quiet.called(5.0)
    assert called.takes(6.0)
    going_on = called.answered(10.0).talking(18.0)
    assert going_on.takes(18.0 + OPEN_S - 1)
    assert not going_on.takes(18.0 + OPEN_S)


COMMANDS = commands(load())


def test_what_holds_and_what_releases_are_different_commands_of_the_dialogue():
    assert not HOLDS & RELEASES
    assert set(COMMANDS) >= HOLDS | RELEASES


MOVES = st.one_of(
    st.just(("pressed",)),
    st.just(("called",)),
    st.just(("talking",)),
    st.just(("answered",)),
    st.just(("answered", True)),
)


def after(attention, moves):
    """The state after each move, a second apart."""
    for now, (name, *more) in enumerate(moves):
        attention = getattr(attention, name)(float(now), *more)
    return attention


@given(st.sampled_from(Mode), st.lists(MOVES, max_size=12))
def test_stop_and_wait_are_heard_in_every_state(mode, moves):
    attention = after(Attention(mode), moves)
    for command in HOLDS:
        assert attention.takes(len(moves), command)


@given(st.sampled_from(Mode), st.lists(MOVES, max_size=12), st.sampled_from(["", *COMMANDS]))
def test_a_hold_takes_nothing_but_what_releases_it(mode, moves, command):
    attention = after(Attention(mode), moves)
    assert attention.takes(len(moves), command, held=True) == (command in RELEASES | ALARMS)


@pytest.mark.parametrize("mode", Mode)
@given(st.lists(MOVES, max_size=12))
def test_no_state_is_a_dead_end(mode, moves):
    attention = after(Attention(mode), moves)
    assert attention.called(50.0).takes(51.0)
    pressed = attention.pressed(50.0)
    assert pressed.takes(51.0) or pressed.pressed(50.5).takes(51.0)
