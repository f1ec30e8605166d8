"""What counts as heard of what an ear wrote, and what is made of several ears' words together."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from assistant.hearing.ears.phoneme import PhonemeEar, Sounds
from assistant.hearing.ears.protocol import Hypothesis
from assistant.hearing.listening.proposals import Proposals, Writing
from assistant.language.meaning import Choice, Expectation, ReadingExpectation

VOLTS = Expectation(
    question="test.volts",
    topic="Volts AC.",
    reading=ReadingExpectation(quantity="voltage_ac", unit="V", plausible=(0, 10_000)),
)
FILTER = Expectation(question="test.filter", topic="The filter.", choices=(Choice(id="blocked", phrases=("blocked",)),))


class Sounding(PhonemeEar):
    """Finds every string the likelier, the shorter it is, unless it begins with "it shows"."""

    def __init__(self) -> None: ...

    def score_ways(self, heard: Sounds, strings: Sequence[str]) -> list[float]:
        return [0.0 if words.startswith("it shows") else -float(len(words)) for words in strings]


def wrote(*texts: tuple[str, float]) -> Writing:
    return Writing("writes", tuple(Hypothesis(words, chance, "writes") for words, chance in texts), None)


def made(expectation: Expectation, writing: Writing, *found: str) -> Proposals:
    proposals = Proposals(expectation, Sounding(), ())
    for words in found:
        proposals.add_found(Hypothesis(words, 0.0, "phoneme"))
    proposals.add_writing(writing)
    proposals.add_mended(writing)
    return proposals


def exact(proposals: Proposals) -> list[str]:
    return [each.words for each in proposals.candidates() if each.views["writes"].exact]


@pytest.mark.parametrize(("longer", "heard"), [(-4.0, []), (-6.0, ["four point seven one"])])
def test_what_goes_on_likelier_with_words_not_understood_is_not_heard(longer: float, heard: list[str]) -> None:
    told = made(VOLTS, wrote(("four point seven one", -5.0), ("Four point seven one dollars.", longer)))
    assert exact(told) == heard


@pytest.mark.parametrize(("likelier", "heard"), [("Four or three.", []), ("or three four", ["four three"])])
def test_where_a_word_between_is_likelier_a_number_without_it_is_not_heard(likelier: str, heard: list[str]) -> None:
    """ "Four oh three" in noise: the word that was not understood is one of the number's."""
    assert exact(made(VOLTS, wrote((likelier, -3.0), ("Four three.", -4.0)))) == heard


@pytest.mark.parametrize(("text", "doubted"), [("Two, forty volts.", True), ("Two and forty volts.", False)])
def test_a_pause_is_a_doubt_but_a_word_passed_over_may_be_a_digit_that_was_lost(text: str, doubted: bool) -> None:
    (told,) = made(VOLTS, wrote((text, -2.0)), "two forty volts").candidates()
    assert told.words == "two forty volts"
    assert told.views["writes"].written == -2.0
    assert told.views["writes"].doubted is doubted


def test_the_same_words_once_more_are_a_circle_and_heard() -> None:
    told = made(VOLTS, wrote(("four point seven", -5.0), ("four point seven four point seven", -4.0)))
    assert "four point seven" in exact(told)


def test_a_phrase_said_twice_is_the_phrase_and_a_number_said_twice_its_digits() -> None:
    assert exact(made(FILTER, wrote(("Blocked, blocked.", -1.0)))) == ["blocked"]
    assert exact(made(VOLTS, wrote(("four four", -1.0)))) == ["four four"]


def test_a_phrase_written_three_times_is_as_sure_as_one_round_of_it_and_more_is_babble() -> None:
    (blocked,) = made(FILTER, wrote(("Blocked. Blocked. Blocked.", -3.0))).candidates()
    assert blocked.views["writes"].written == -1.0
    assert exact(made(FILTER, wrote(("Blocked. Blocked. Blocked. Blocked. Blocked.", -3.0)))) == []


def test_a_round_that_was_cut_out_of_a_circle_is_no_likelier_text() -> None:
    """The circle's words, cut anywhere, are likelier than any text for being fewer of them."""
    cut = Hypothesis("six six five nine six six", -2.0, "writes", whole=False)
    whole = Hypothesis("six six five", -3.0, "writes")
    assert exact(made(VOLTS, Writing("writes", (cut, whole), None))) == ["six six five"]


def test_what_the_sound_found_takes_the_numbers_that_were_written() -> None:
    told = made(VOLTS, wrote(("That shows five one point four bolts.", -5.0)), "it shows five point four volts")
    words = [each.words for each in told.candidates()]
    assert "it shows five one point four volts" in words


def test_an_ear_is_asked_about_what_the_sound_finds_likeliest() -> None:
    asked: list[str] = []

    def score(strings: Sequence[str]) -> list[float]:
        asked.extend(strings)
        return [-1.0] * len(strings)

    writing = Writing("writes", (Hypothesis("four point seven one", -1.0, "writes"),), score)
    told = made(VOLTS, writing, "five", "six hundred eleven", "seven hundred eleven")
    told.questions(writing, 1).answers()
    assert asked == ["five"]
