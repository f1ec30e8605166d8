"""Has the sentences of a table spoken, as people say them and not as the grammar has them.

The folder is what ``ladderside measure-words`` hears: the table, and sound files named by line and voice.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np
import soundfile

from assistant.commands.spoken_words import TABLE
from assistant.hearing.sound.audio import SAMPLE_RATE
from assistant.language.corpus import COLUMNS, CorpusError
from recordings_synthetic.measuring import in_quiet_room
from recordings_synthetic.voices import Voice, say_all

#: Signs that a voice makes a pause or a tone of; others some engines read out, or take for their own language.
_UNSAID = re.compile(r"[^\w ,.;:!?'-]")


def write(
    folder: Path, table: Path, voices: Sequence[Voice], each: bool, seed: int, progress: Callable[[str], None]
) -> int:
    """Speaks the lines of ``table`` into ``folder``, by the ``voices`` in turn or by ``each``; how many files.

    Raises CorpusError for what is no such table, EngineError where a voice is missing.
    """
    try:
        text = table.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise CorpusError(f"{table} cannot be read as UTF-8 text ({error}); name a table of sentences.") from None
    head, *lines = text.splitlines()
    if tuple(head.split("\t")) != COLUMNS:
        raise CorpusError(f"{table}, line 1: the columns must be {', '.join(COLUMNS)}, with a tab between them.")
    folder.mkdir(parents=True, exist_ok=True)
    (folder / TABLE).write_text(text, encoding="utf-8")
    said = [(number, spoken(line.partition("\t")[0])) for number, line in enumerate(lines, start=2) if line]
    count = 0
    for place, voice in enumerate(voices):
        mine = said if each else said[place :: len(voices)]
        progress(f"{voice.name}: {len(mine)} sentences")
        for (number, _), audio in zip(mine, say_all([words for _, words in mine], voice), strict=True):
            heard = in_quiet_room(audio, seed + count)
            path = folder / f"{number:04d}-{voice.name}.flac"
            soundfile.write(path, np.clip(heard, -1, 1), SAMPLE_RATE, format="FLAC", subtype="PCM_16")
            count += 1
    return count


def spoken(sentence: str) -> str:
    """The sentence with the signs that a voice can say, without its last stop: some engines add their own."""
    return _UNSAID.sub(" ", sentence).strip().rstrip(".")
