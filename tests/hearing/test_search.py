"""The search over a word graph, on posteriors written by hand, where every answer can be worked out."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from assistant.hearing.ears import network, search
from assistant.hearing.ears.acoustics import PhonemeModel
from assistant.hearing.ears.conformer import Posteriors
from assistant.hearing.ears.network import Pronunciations
from assistant.language.state_grammar import WordGraph

TOKENS = ("a", "b", "c", "<wb>", "<blank>")
MODEL = PhonemeModel(TOKENS, blank=4, boundary=3, bonus=2.0, _run=lambda audio: np.zeros((0, 5), dtype=np.float32))
WAYS: dict[str, Pronunciations] = {
    "ab": ((0.0, (0, 1)),),
    "ba": ((0.0, (1, 0)),),
    "c": ((0.0, (2,)), (-1.0, (0, 2))),
    "aa": ((0.0, (0, 0)),),
}
ANY = WordGraph(2, 0, frozenset({1}), tuple((source, word, 1) for source in (0, 1) for word in WAYS))


def frames(text: str, sure: float = 0.9) -> Posteriors:
    """One frame a letter; "-" is blank and "|" a word boundary."""
    columns = [{"-": 4, "|": 3}.get(letter, "abc".find(letter)) for letter in text]
    chances = np.full((len(text), 5), (1 - sure) / 4)
    chances[np.arange(len(text)), columns] = sure
    return np.log(chances).astype(np.float32)


def heard(
    text: str, graph: WordGraph = ANY, bonus: float = 0.0, most: int = 5, sure: float = 0.9
) -> list[search.Found]:
    laid_out = network.build(graph, WAYS.__getitem__, MODEL)
    return search.best(laid_out, network.extend(frames(text, sure), MODEL), bonus, most)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("-aabb-", "ab"),
        ("ab|ba", "ab ba"),
        ("--a-b--c--", "ab c"),
        ("-a-c-", "c"),  # by its second way
        ("a-a", "aa"),  # a blank must part the same phoneme
        ("abba", "ab ba"),  # two words may share a phoneme
    ],
)
def test_best_is_what_was_written(text: str, words: str) -> None:
    assert " ".join(heard(text, most=1)[0].words) == words


def test_nothing_is_found_in_no_frames_or_an_empty_graph() -> None:
    assert heard("") == []
    assert heard("ab", WordGraph(1, 0, frozenset(), ())) == []


def test_strings_come_in_order_and_never_twice() -> None:
    found = heard("abcab", most=8, sure=0.5)
    assert len(found) == 8
    assert [each.score for each in found] == sorted((each.score for each in found), reverse=True)
    assert len({each.words for each in found}) == 8


def test_only_strings_of_the_graph_are_found() -> None:
    only = WordGraph(3, 0, frozenset({2}), ((0, "ab", 1), (1, "c", 2)))
    assert [each.words for each in heard("ba-ba", only)] == [("ab", "c")]


def test_the_bonus_is_paid_once_a_word() -> None:
    plain, paid = heard("ab|ba", bonus=0.0, most=1)[0], heard("ab|ba", bonus=2.0, most=1)[0]
    assert paid.words == plain.words
    assert paid.score == pytest.approx(plain.score + 4.0, abs=1e-4)


def test_words_begin_where_they_were_heard() -> None:
    (first, *_) = heard("aabb--cc", most=1)
    assert first.words == ("ab", "c")
    assert first.frames[0] == 0
    assert 3 < first.frames[1] <= 6


def _likelihood_by_hand(text: str, phonemes: tuple[int, ...], sure: float) -> float:
    """Sum over every row of columns that collapses to ``phonemes`` with silence before and behind."""
    chances = np.exp(frames(text, sure).astype(np.float64))
    total = 0.0
    for row in itertools.product(range(5), repeat=len(text)):
        kept = [column for column, same in zip(row, (None, *row), strict=False) if column != same]
        if tuple(column for column in kept if column not in (3, 4)) != phonemes:
            continue
        inside = kept[kept.index(phonemes[0]) : len(kept) - kept[::-1].index(phonemes[-1])]
        if 3 not in inside:  # a word boundary inside a word is no way to say it
            total += float(np.prod(chances[range(len(text)), row]))
    return float(np.log(total))


@pytest.mark.parametrize("phonemes", [(0, 1), (0, 0), (2,)])
def test_the_forward_score_is_the_sum_over_all_alignments(phonemes: tuple[int, ...]) -> None:
    laid_out = network.build(network.chains([["word"]]), lambda word: ((0.0, phonemes),), MODEL)
    extended = network.extend(frames("-ab-a", 0.6), MODEL)
    assert search.likelihoods(laid_out, extended, 0.0)[0] == pytest.approx(
        _likelihood_by_hand("-ab-a", phonemes, 0.6), abs=1e-4
    )


def test_forward_scores_of_many_strings_are_those_of_each() -> None:
    strings = [["ab"], ["c", "ba"], ["ab", "c"]]
    extended = network.extend(frames("-ab--c-", 0.7), MODEL)

    def scores(some: list[list[str]]) -> list[float]:
        laid_out = network.build(network.chains(some), WAYS.__getitem__, MODEL)
        return [float(score) for score in search.likelihoods(laid_out, extended, 2.0)]

    assert scores(strings) == pytest.approx([scores([one])[0] for one in strings])
    assert int(np.argmax(scores(strings))) == 2


def test_runs_of_sure_silence_are_merged_without_changing_a_score() -> None:
    short = heard("-ab-", sure=0.999, most=1)[0]
    long = heard("-ab" + "-" * 40, sure=0.999, most=1)[0]
    assert long.words == short.words
    assert long.score == pytest.approx(short.score + 39 * np.log(0.999 + 0.001 / 4), abs=1e-2)
    merged, firsts = search.merge_silence(network.extend(frames("-ab" + "-" * 40, 0.999), MODEL))
    assert list(firsts) == [0, 1, 2, 3]
    assert len(merged) == 4
