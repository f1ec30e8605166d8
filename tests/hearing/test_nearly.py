"""When a text that is not understood as it stands still bears an answer out."""

from __future__ import annotations

import pytest

from assistant.hearing.listening.nearly import nearly


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("It rips inside.", "it drips inside"),
        ("137 megas.", "one hundred thirty seven megs"),
        ("137 megas.", "one thirty seven megs"),
        ("Two point zero five kilos.", "two point zero five kilohms"),
        ("P to W, point zero six bolts.", "p to w point zero six volts"),
        ("Four point two.", "four point two"),
        ("Four points, seventy four.", "four point seventy four"),
        ("Minus three nine boy three.", "minus three nine point three"),
        ("Four point six on.", "four point six ohms"),
    ],
)
def test_misspelt_words_around_the_same_numbers_are_near(text: str, words: str) -> None:
    assert nearly(text, words)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Nine points, six.", "nine point sixty"),
        ("Point six, boy.", "point six volts"),
        ("Mine point three.", "nine point three"),
        ("For points.", "four point"),
        ("P, B, point six.", "p v point six"),
        ("138 megs.", "one hundred thirty seven megs"),
        ("Four or three volts.", "four oh three volts"),
        ("P to W, point six volts.", "p to w point zero six volts"),
        ("P to V, 0.6 volts.", "p to u zero point six volts"),
        ("Run.", "wrong"),
        ("Help him.", "help"),
        ("No, he can.", "no heating"),
        ("Mark P.", "mark b"),
        ("P U, 0.6 volts, P V, 0.7.", "p v point six volts p u point seven"),
        ("Do not stop.", "stop"),
        ("It isn't blocked.", "it is blocked"),
        ("137 dollars.", "one thirty seven volts"),
        ("There's nothing lit up.", "there's nothing like that"),
        ("It hasn't gone down one bit.", "it hasn't got one"),
        ("Intermittent comb error.", "intermittent fault"),
        ("", "stop"),
    ],
)
def test_another_number_terminal_or_word_is_not(text: str, words: str) -> None:
    assert not nearly(text, words)
