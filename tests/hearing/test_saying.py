"""A proposal is judged over every way to say its numbers."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from assistant.language import numbers
from assistant.language.saying import exchanged, ways
from assistant.language.state_grammar import WordGraph


def strings(graph: WordGraph, final: int) -> set[str]:
    """Every word string that ends in ``final``."""

    def walk(state: int) -> Iterator[list[str]]:
        if state == final:
            yield []
        for source, word, target in graph.arcs:
            if source == state:
                yield from ([word, *rest] for rest in walk(target))

    return {" ".join(words) for words in walk(graph.start)}


@pytest.mark.parametrize(
    ("words", "also"),
    [
        (
            "one two three",
            ["one twenty three", "twelve three", "one hundred twenty three", "one hundred and twenty three"],
        ),
        ("two hundred forty", ["two forty", "two four zero", "two four oh"]),
        ("four point two", ["four point two"]),
        ("zero point four five", ["point four five", "oh point forty five"]),
        ("minus five", ["minus five", "negative five"]),
        ("oh seven", ["zero seven"]),
        ("u to v four and a half ohms", ["u to v four point five ohms"]),
    ],
)
def test_other_ways_are_there(words: str, also: list[str]) -> None:
    assert set(also) | {words} <= strings(ways([words]), 1)


@pytest.mark.parametrize(
    "words",
    [
        "one oh five",
        "nineteen thousand four fifty",
        "twelve point oh seven",
        "ten twelve sixty seven",
        "four oh three twenty three",
        "two oh oh seven oh six",
    ],
)
def test_every_way_is_worth_the_same(words: str) -> None:
    value = numbers.parse(words)
    assert value is not None
    for other in strings(ways([words]), 1):
        said = numbers.parse(other)
        assert said is not None, other
        assert said.value == value.value, other


def test_what_sounds_like_another_number_is_no_way_to_say_it() -> None:
    """ "Forty three" for four, zero, three made an answer as likely as its rival, and a right one was asked about."""
    other = strings(ways(["four oh three twenty three"]), 1)
    assert {"four oh thirty two three", "forty thirty two three"} <= other
    assert "forty three twenty three" not in other


def test_strings_end_in_states_of_their_own() -> None:
    graph = ways(["stop", "two", "go back"])
    assert graph.finals == frozenset({1, 2, 3})
    assert strings(graph, 1) == {"stop"}
    assert strings(graph, 3) == {"go back"}


@pytest.mark.parametrize(
    ("words", "other", "mended"),
    [
        (
            "it shows five point four ohms u v",
            "that shows five one point four ohms",
            ["it shows five one point four ohms u v"],
        ),
        (
            "point zero p u point one p w",
            "point zero eight p you point one eight be w",
            [
                "point zero eight p u point one p w",
                "point zero p u point one eight p w",
                "point zero eight p u point one eight p w",
            ],
        ),
        ("four two volts", "four two", []),
        ("four two volts", "four two and three", []),
        ("stop", "four", []),
    ],
)
def test_numbers_are_exchanged_one_at_a_time_and_all(words: str, other: str, mended: list[str]) -> None:
    assert list(exchanged(words, other)) == mended
