"""Spoken sentences, heard by the ears and understood as in a visit, for ``measure-words``.

A folder of them holds ``sentences.tsv``, a table of sentences, and sound files whose names begin with the number of
their line in it ("0002-hibari-heart.flac"). ``python -m recordings_synthetic sentences`` makes one.
"""

from __future__ import annotations

import zlib
from collections.abc import Callable, Iterator
from pathlib import Path

from assistant.dialogue.commands import is_obeyed
from assistant.hearing.sound.audio import SAMPLE_RATE, Utterance
from assistant.hearing.sound.files import load
from assistant.language.corpus import CorpusError, Row
from assistant.language.meaning import Heard, Interpretation
from assistant.language.net import Net
from assistant.language.scope import Scope
from assistant.measuring.hearing import Ears
from assistant.measuring.places import Place
from assistant.visit.meant import as_meant

TABLE = "sentences.tsv"
#: Why a sentence that was heard is asked about, where language has no doubt of it.
_NOT_SURE = "The ears were not sure."


class ByEar:
    """What the sounds in ``folder`` are taken for, each heard in ``place``. Raises CorpusError where there are none."""

    def __init__(
        self, folder: Path, ears: Ears, place: Place, net: Net, progress: Callable[[int], None] = lambda done: None
    ) -> None:
        self.table = folder / TABLE
        self._said: dict[int, list[Path]] = {}
        for file in sorted(folder.iterdir()):
            number = file.name.partition("-")[0]
            if file != self.table and number.isdigit():
                self._said.setdefault(int(number), []).append(file)
        if not self._said:
            raise CorpusError(f"{folder} holds no sound files that begin with the number of a line; add them.")
        self._ears, self._place, self._net, self._progress, self._done = ears, place, net, progress, 0

    @property
    def count(self) -> int:
        """How many times something is said."""
        return sum(map(len, self._said.values()))

    def __call__(self, row: Row, scope: Scope) -> Iterator[Interpretation]:
        for file in self._said.get(row.line, ()):
            self._ears.expect(scope.expectation)
            audio = self._place.heard(load(file), zlib.crc32(file.name.encode()) % 10_000)
            heard = self._ears.judge(Utterance(audio, 0.0, len(audio) / SAMPLE_RATE))
            self._done += 1
            self._progress(self._done)
            yield _understood(as_meant(heard, scope, lambda: self._net), file)


def _understood(heard: Heard, file: Path) -> Interpretation:
    """What the dialogue would do with it: take it, ask back, or understand nothing."""
    wrote = f"{file.stem}: " + " / ".join(words for _, words in heard.ears)
    if heard.trust == "again":
        return Interpretation(words=wrote, meaning=None, talk=heard.talk)
    asked = "" if heard.trust == "sure" or is_obeyed(heard) else heard.doubt or _NOT_SURE
    return Interpretation(words=wrote, meaning=heard.meaning, options=heard.options, doubt=asked)
