"""How words sound to the acoustic model: learnt ways first, spelling-to-sound for words never listened to.

``grammars/pronunciations.tsv`` holds what ``grammars/teaching/learn_pronunciations.py`` learnt from synthetic voices:
one way a line, ``word``, log weight and phonemes. The acoustic model's phonemes are odd for small words, which is why
they are learnt from its own posteriors and not taken from a dictionary.
"""

from __future__ import annotations

from functools import cached_property, lru_cache
from pathlib import Path

from hama.inference import G2PModel
from hama.vocab import Vocabulary

from assistant.data.places import data_folder
from assistant.errors import LaddersideError
from assistant.hearing.ears.acoustics import PhonemeModel
from assistant.hearing.ears.network import Pronunciations

FILE = "pronunciations.tsv"
HEADING = (
    "# How words sound to the acoustic model: word, log weight, phonemes. Learnt from synthetic voices by\n"
    "# grammars/teaching/learn_pronunciations.py; not written by hand.\n"
)


class PronunciationError(LaddersideError):
    """The pronunciations cannot be used; the text names file, line and remedy."""


class Lexicon:
    """Pronunciations by word. Words that were not learnt are guessed once, with hama's spelling-to-sound."""

    def __init__(self, model: PhonemeModel, learnt: dict[str, Pronunciations]) -> None:
        self._columns = {token: column for column, token in enumerate(model.tokens)}
        self._known = dict(learnt)

    def pronounce(self, word: str) -> Pronunciations:
        """At least one way to say ``word``, as log weight and posterior columns."""
        if word not in self._known:
            self._known[word] = self._guess(word)
        return self._known[word]

    def _guess(self, word: str) -> Pronunciations:
        spelt = "".join(letter if letter.isalnum() else " " for letter in word.replace("'", "")).strip()
        sounds = guess_phonemes(spelt) if spelt else ()
        phonemes = tuple(self._columns[token] for token in sounds if token in self._columns)
        if not phonemes:
            raise PronunciationError(f"No pronunciation could be made for the word {word!r}; use letters a to z.")
        return ((0.0, phonemes),)


@lru_cache(maxsize=4096)
def guess_phonemes(words: str) -> tuple[str, ...]:
    """Phonemes of ``words`` after hama's spelling-to-sound model."""
    return tuple(step.phoneme for step in _speller()(words).alignments if step.phoneme.strip())


class _Letters(Vocabulary):  # type: ignore[misc]
    """hama's letters with their numbers made once: it makes the table of all Hangul anew for each letter it reads."""

    @cached_property
    def encoder_token_to_id(self) -> dict[str, int]:
        return {token: number for number, token in enumerate(self.encoder)}


@lru_cache(maxsize=1)
def _speller() -> G2PModel:
    model = G2PModel()
    model.tokenizer.vocab = _Letters.load()
    return model


def load(model: PhonemeModel, file: Path | None = None) -> Lexicon:
    """The lexicon over ``file``, by default the one that comes with Ladderside."""
    return Lexicon(model, read(model, file or shipped()))


def shipped() -> Path:
    """The file of learnt ways that comes with Ladderside."""
    return data_folder("grammars") / FILE


def read(model: PhonemeModel, file: Path) -> dict[str, Pronunciations]:
    """Reads the learnt ways; raises PronunciationError with file and line when one cannot be used."""
    columns = {token: column for column, token in enumerate(model.tokens)}
    ways: dict[str, list[tuple[float, tuple[int, ...]]]] = {}
    for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), start=1):
        if not line or line.startswith("#"):
            continue
        try:
            word, weight, phonemes = line.split("\t")
            way = float(weight), tuple(columns[phoneme] for phoneme in phonemes.split())
            if not way[1]:
                raise ValueError
        except (ValueError, KeyError):
            raise PronunciationError(
                f"{file}, line {number}: a line is a word, a number and phonemes of the acoustic model, "
                "separated by tabs; correct it, or learn the file again with learn_pronunciations.py."
            ) from None
        ways.setdefault(word, []).append(way)
    return {word: tuple(sorted(found, reverse=True)) for word, found in ways.items()}
