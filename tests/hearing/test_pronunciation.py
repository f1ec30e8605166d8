"""Learnt ways come first, any other word is guessed, and a broken file names its line."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.hearing.ears import acoustics, network, pronunciation
from assistant.language.grammar import vocabulary
from grammars.teaching import learning
from tests.hearing.speech import spoken

MODEL = acoustics.load()


def test_the_words_of_the_grammars_were_learnt() -> None:
    """A word added since is guessed until learn_pronunciations.py is run again; many would make the ear deaf."""
    learnt = pronunciation.read(MODEL, pronunciation.shipped())
    missing = vocabulary() - set(learnt)
    assert len(missing) <= 0.05 * len(vocabulary()), (
        f"run python -m grammars.teaching.learn_pronunciations for {sorted(missing)}"
    )


def test_the_likeliest_way_comes_first_and_costs_nothing() -> None:
    for ways in pronunciation.read(MODEL, pronunciation.shipped()).values():
        assert ways[0][0] == 0
        assert [weight for weight, _ in ways] == sorted((weight for weight, _ in ways), reverse=True)


def test_an_unseen_word_has_a_way_too() -> None:
    (way, *_) = pronunciation.load(MODEL).pronounce("thermocouple")
    assert len(way[1]) > 4
    assert pronunciation.load(MODEL).pronounce("o'clock")


def test_a_word_without_letters_is_refused() -> None:
    with pytest.raises(pronunciation.PronunciationError, match="for the word"):
        pronunciation.load(MODEL).pronounce("'")


@pytest.mark.parametrize("line", ["one\t0", "one\tmuch\to n", "one\t0\tnot-a-phoneme", "one\t0\t"])
def test_a_broken_line_is_named(tmp_path: Path, line: str) -> None:
    file = tmp_path / "pronunciations.tsv"
    file.write_text(f"# heading\ntwo\t0\tt oʊ\n{line}\n", encoding="utf-8")
    with pytest.raises(pronunciation.PronunciationError, match=r"pronunciations.tsv, line 3: "):
        pronunciation.read(MODEL, file)


def test_listening_learns_a_word_that_was_never_spelt_right() -> None:
    """Starting from nonsense, three voices are enough to hear what "stop" and "help" sound like."""
    columns = {token: column for column, token in enumerate(MODEL.tokens)}
    nonsense: dict[str, network.Pronunciations] = {"stop": ((0.0, (columns["m"],)),), "help": ((0.0, (columns["z"],)),)}
    lessons = [
        learning.Lesson((word,), MODEL.posteriors(spoken(word, voice)))
        for word in nonsense
        for voice in ("flite-rms", "flite-slt", "flite-kal")
    ]
    ways = learning.learn(MODEL, lessons, pronunciation.Lexicon(MODEL, nonsense))
    sounds = {word: [MODEL.tokens[column] for column in ways[word][0][1]] for word in nonsense}
    assert "s" in sounds["stop"]
    assert "t" in sounds["stop"]
    assert "h" in sounds["help"]
    assert "l" in sounds["help"]
