"""The rule: when two ears' answers may be recorded, when they are asked about, and when nothing was understood."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.hearing.judgement import (
    AGAIN,
    LOOKED_AT,
    SURE,
    Candidate,
    is_babble,
    is_near,
    judge,
    plausible,
    worth_a_look,
)
from assistant.language.compare import meaning_key
from assistant.language.interpret import interpret
from assistant.language.meaning import (
    Choice,
    Command,
    Correction,
    Expectation,
    Finding,
    Meaning,
    ReadingExpectation,
    Text,
)

VOLTS = Expectation(
    question="test",
    reading=ReadingExpectation(quantity="voltage_ac", unit="V", plausible=(0, 500)),
)


def meaning(words: str) -> Meaning:
    found = interpret(words, VOLTS).meaning
    assert found is not None
    return found


def candidate(
    words: str,
    forward: float,
    written: float | None = -2.0,
    second: float | None = None,
    doubt: str = "",
) -> Candidate:
    return Candidate(meaning(words), words, words, forward, True, written, second, written is not None, doubt)


def key(words: str) -> tuple[object, ...]:
    return meaning_key(meaning(words))


AGREED = (key("two forty volts"), key("two forty volts"))
CLEAR = (candidate("two forty volts", 0.0), candidate("two fourteen volts", -15.0, written=None))


def test_two_ears_that_agree_clearly_are_sure() -> None:
    judged = judge(CLEAR, AGREED, VOLTS)
    assert judged.trust == "sure"
    assert judged.chance >= SURE
    assert judged.answer is CLEAR[0]
    assert judged.runner_up is CLEAR[1]


@pytest.mark.parametrize(
    "first",
    [
        (key("two forty volts"), None),
        (None, key("two forty volts")),
        (key("two fourteen volts"), key("two forty volts")),
        (key("two forty volts"), key("two fourteen volts")),
    ],
)
def test_an_ear_alone_is_never_sure(first: tuple[tuple[object, ...] | None, tuple[object, ...] | None]) -> None:
    assert judge(CLEAR, first, VOLTS).trust != "sure"


def test_a_doubt_of_language_is_asked() -> None:
    doubtful = (candidate("two forty volts", 0.0, doubt="no unit was said"), CLEAR[1])
    judged = judge(doubtful, AGREED, VOLTS)
    assert (judged.trust, judged.doubt) == ("confirm", "no unit was said")


def test_what_no_instrument_can_show_there_is_asked() -> None:
    words = "nine hundred volts"
    judged = judge((candidate(words, 0.0),), (key(words), key(words)), VOLTS)
    assert judged.trust == "confirm"


def test_the_plausible_of_two_near_answers_wins() -> None:
    """Of "nine hundred" and "one hundred", nearly alike, only one is a supply voltage here."""
    close = (candidate("nine hundred volts", 0.3), candidate("one hundred volts", 0.0))
    answer = judge(close, (key("nine hundred volts"), key("one hundred volts")), VOLTS).answer
    assert answer is close[1]


def test_the_second_look_decides_where_the_ears_differ() -> None:
    heard = candidate("two fourteen volts", 1.0, written=None, second=-40.0)
    written = candidate("two forty volts", 0.0, written=-3.0, second=-25.0)
    judged = judge((heard, written), (key("two fourteen volts"), key("two forty volts")), VOLTS)
    assert judged.answer is written
    assert judged.runner_up is heard
    assert judged.trust != "sure"


def test_few_meanings_get_a_second_look_and_what_was_written_is_among_them() -> None:
    words = [f"two {number} volts" for number in ("ten", "twenty", "thirty", "forty", "fifty", "sixty")]
    heard = [candidate(each, -float(index), written=None) for index, each in enumerate(words)]
    written = candidate("two ninety volts", -50.0, written=-3.0)
    looked = worth_a_look([*heard, written])
    assert len(looked) == LOOKED_AT
    assert written in looked
    assert heard[0] in looked


def test_agreement_is_asked_about_when_another_answer_is_near_and_whisper_was_unsure() -> None:
    """Both ears may drop the same word in noise; the second look tells how near the other answer is."""
    near = (candidate("two forty volts", 0.0), candidate("two fourteen volts", -0.3, written=None))
    assert judge(near, AGREED, VOLTS).trust == "confirm"
    assert is_near(near, AGREED[0])
    assert not is_near(CLEAR, AGREED[0])
    looked = (replace(near[0], second=-20.0), replace(near[1], second=-21.0))
    assert judge(looked, AGREED, VOLTS).trust == "confirm"
    cleared = (near[0], replace(near[1], second=-35.0))
    assert judge((replace(cleared[0], second=-20.0), cleared[1]), AGREED, VOLTS).trust == "sure"


def test_free_words_are_taken_from_the_ear_that_can_write_them() -> None:
    site = Expectation(question="test", text=True)
    name = Candidate(Text(words="blue mill bakery"), "blue mill bakery", "blue mill bakery", -80.0, False, -2.0)
    misheard = Candidate(Command(name="wait"), "wait", "wait", -20.0, True, None)
    judged = judge((misheard, name), (meaning_key(misheard.meaning), meaning_key(name.meaning)), site)
    assert judged.answer is name
    assert judged.trust == "confirm"
    unsure = Candidate(name.meaning, name.words, name.words, -80.0, False, -9.0)
    assert judge((unsure,), (None, meaning_key(name.meaning)), site).trust == "again"


def test_one_word_over_and_over_is_never_taken_for_an_answer() -> None:
    assert not is_babble("two two two two two two volts")
    assert is_babble("no no no no no")
    assert not is_babble("eight eight eight eight")
    no = Expectation(question="test", choices=(Choice(id="no", phrases=("no", "no no no no no")),))
    said = Candidate(Finding(choice="no"), "no no no no no", "no no no no no", 0.0, True, -1.0, -1.0, True)
    name = meaning_key(said.meaning)
    assert judge((said,), (name, name), no).trust == "confirm"
    assert judge((replace(said, words="no"),), (name, name), no).trust == "sure"


def test_nothing_proposed_is_asked_again() -> None:
    judged = judge((), (None, None), VOLTS)
    assert (judged.answer, judged.trust, judged.chance) == (None, "again", 0.0)


def test_plausibility_looks_into_corrections_and_only_at_readings() -> None:
    assert plausible(Finding(choice="yes"), VOLTS)
    assert plausible(meaning("two forty volts"), VOLTS)
    wrong = meaning("nine hundred volts")
    assert not plausible(wrong, VOLTS)
    assert not plausible(Correction(meaning=wrong), VOLTS)  # type: ignore[arg-type]


@given(
    forwards=st.lists(st.floats(-60, 20), min_size=3, max_size=3),
    written=st.lists(st.none() | st.floats(-40, 0), min_size=3, max_size=3),
    firsts=st.tuples(st.integers(0, 2), st.integers(0, 2)),
)
def test_sure_always_means_agreed_best_and_likely(
    forwards: list[float], written: list[float | None], firsts: tuple[int, int]
) -> None:
    words = ["two forty volts", "two fourteen volts", "two twenty volts"]
    some = tuple(candidate(*each) for each in zip(words, forwards, written, strict=True))
    judged = judge(some, (key(words[firsts[0]]), key(words[firsts[1]])), VOLTS)
    assert 0 <= judged.chance <= 1
    if judged.trust == "sure":
        assert firsts[0] == firsts[1]
        assert judged.answer is some[firsts[0]]
        assert judged.chance >= SURE
    if judged.trust == "again":
        assert judged.chance < AGAIN
