"""Words of any ear as words of the grammar."""

from __future__ import annotations

import pytest

from assistant.language.compare import same_meaning
from assistant.language.interpret import interpret
from assistant.language.normalise import normalise, proposals, spoken_forms
from tests.language.states import STATES
from tests.language.telling import told


@pytest.mark.parametrize(
    ("name", "written", "spoken"),
    [
        ("arms", "P to U.45 to volts", "p to u point four five two volts"),
        ("pins", "123 4.1", "one to three four point one"),
        ("pins", "1 to 24.2", "one to two four point two"),
        ("sensor", "19k", "nineteen k"),
        ("capacitor", "34.7 microfarads", "thirty four point seven microfarads"),
        ("clamp", "$4.20", "four twenty"),
        ("clamp", "10:30", "ten thirty"),
        ("windings", "you to the 4.2", "u to v four point two"),
        ("number", "to eight to", "two eight two"),
        ("bus", "Uh, 24.5 VDC.", "twenty four point five volts dc"),
        ("yes-no", "Yes!", "yes"),
        # Nothing of the grammar: numerals said, the rest kept.
        ("bus", "He paid $5 for 3 fuses.", "he paid five for three fuses"),
    ],
)
def test_normalise(name: str, written: str, spoken: str) -> None:
    assert normalise(written, STATES[name]) == spoken


@pytest.mark.parametrize(
    ("name", "written", "said"),
    [
        ("bus", "120 volts", "one twenty volts"),
        ("bus", "120 volts", "one two oh volts"),
        ("number", "31167", "three eleven sixty seven"),
        ("number", "107", "one oh seven"),
        ("bus", "1200 millivolts", "twelve hundred millivolts"),
        ("bus", "19,450 millivolts", "nineteen thousand four fifty millivolts"),
    ],
)
def test_a_written_number_may_have_been_said_in_several_ways(name: str, written: str, said: str) -> None:
    assert said in spoken_forms(written, STATES[name])


@pytest.mark.parametrize("name", ["bus", "number", "clamp", "big-clamp", "windings", "pins", "sensor"])
@pytest.mark.parametrize("written", ["1 to 24.2", "1. 07", "250", "5, 5", "4.2", "12.50", "31167"])
def test_all_spoken_forms_mean_the_same(name: str, written: str) -> None:
    state = STATES[name]
    for meaning, forms in proposals(written, state):
        for form in forms:
            assert any(same_meaning(meaning, other) for other, _ in proposals(form, state)), form


@pytest.mark.parametrize("name", ["bus", "number", "clamp", "windings", "pins", "sensor"])
@pytest.mark.parametrize("written", ["1 to 24.2", "250", "4.2", "12.50", "31167", "$4.20"])
def test_the_first_proposal_is_what_is_understood(name: str, written: str) -> None:
    told_ = proposals(written, STATES[name])
    understood = interpret(written, STATES[name]).meaning
    assert same_meaning(told_[0][0] if told_ else None, understood)


def test_proposals_keep_meanings_apart() -> None:
    found = {told(meaning): forms for meaning, forms in proposals("1. 07", STATES["bus"])}
    assert found == {
        "1.07": ("one point zero seven", "one point oh seven"),
        "107": ("one zero seven", "one oh seven"),
    }
    assert spoken_forms("1. 07", STATES["bus"]) == found["1.07"]


def test_words_that_fit_nothing_have_the_ways_to_say_their_numerals() -> None:
    forms = spoken_forms("fuse 120", STATES["yes-no"])
    assert forms[0] == "fuse one hundred twenty"
    assert "fuse one twenty" in forms
