"""When speech is for the assistant, in each of the three ways to work."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.hearing.attention import ALWAYS, OPEN_S, RELEASES, Attention, Mode


def test_always_listening_takes_everything_until_a_hold():
    open_ears = Attention()
    assert open_ears.takes(5.0)
    held = open_ears.commanded("wait")
    assert not held.takes(6.0)
    assert not held.takes(6.0, "skip"), "talk with the customer is not a command"
    assert held.takes(6.0, "resume")
    assert held.commanded("resume").takes(7.0)


def test_the_button_holds_where_the_ears_are_open_anyway():
    held = Attention().pressed(3.0)
    assert held.held
    assert held.pressed(4.0).takes(5.0)


def test_a_press_is_good_for_one_answer():
    button = Attention(Mode.BUTTON)
    assert not button.takes(5.0)
    pressed = button.pressed(5.0)
    assert pressed.takes(6.0)
    assert not pressed.takes(5.0 + OPEN_S), "and not for ever"
    assert not pressed.answered(8.0).takes(9.0)
    assert not pressed.turned(8.0).takes(5.0 + OPEN_S), "a reply does not press the button"
    assert not pressed.pressed(6.0).takes(7.0), "pressed again: closed"


def test_a_call_opens_a_talk():
    quiet = Attention(Mode.PHRASE)
    assert not quiet.takes(5.0)
    assert not quiet.turned(5.0).takes(6.0), "a reply alone does not open the ears"
    called = quiet.called(5.0)
    assert called.takes(6.0)
    going_on = called.answered(10.0).turned(18.0)
    assert going_on.takes(18.0 + OPEN_S - 1)
    assert not going_on.takes(18.0 + OPEN_S)


@pytest.mark.parametrize("mode", Mode)
def test_a_press_or_a_call_ends_a_hold_and_listens(mode):
    held = Attention(mode).pressed(1.0).commanded("wait") if mode is not Mode.ALWAYS else Attention(held=True)
    assert held.held
    assert held.pressed(20.0).takes(21.0)
    assert held.called(20.0).takes(21.0)


MOVES = st.one_of(
    st.just(("pressed",)), st.just(("called",)), st.just(("turned",)), st.just(("answered",)),
    st.tuples(st.just("commanded"), st.sampled_from([*ALWAYS, *RELEASES, "skip", ""])),
)  # fmt: skip


def after(attention, moves):
    """The state after each move, a second apart."""
    for now, (name, *command) in enumerate(moves):
        attention = getattr(attention, name)(*(command or [float(now)]))
    return attention


@given(st.sampled_from(Mode), st.lists(MOVES, max_size=12))
def test_stop_and_wait_are_heard_in_every_state(mode, moves):
    attention = after(Attention(mode), moves)
    for command in ALWAYS:
        assert attention.takes(len(moves), command)
        assert not attention.commanded(command).takes(len(moves)), "and then nothing is an answer"


@given(st.sampled_from(Mode), st.lists(MOVES, max_size=12))
def test_no_state_is_a_dead_end(mode, moves):
    attention = after(Attention(mode), moves)
    assert attention.called(50.0).takes(51.0)
    pressed = attention.pressed(50.0)
    assert pressed.takes(51.0) or pressed.pressed(50.5).takes(51.0)
