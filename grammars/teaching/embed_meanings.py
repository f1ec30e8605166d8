"""Makes ``grammars/meanings/exemplars.npz`` anew: the known clauses as vectors of the sentence model.

``python grammars/teaching/embed_meanings.py`` after a change of the clauses, of the knowledge's phrases or of the model
(a minute for all; only what is new is computed). The clauses are those of ``grammars/meanings/*.tsv`` and every
phrase of the knowledge and of the commands.
"""

from __future__ import annotations

import csv
import hashlib
import json
import re
import sys
from collections.abc import Iterator
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from assistant.language.net import exemplars  # noqa: E402
from assistant.language.net.encoder import MODEL, Encoder  # noqa: E402
from assistant.language.net.hashes import SHA256  # noqa: E402
from assistant.language.state import command_phrases  # noqa: E402
from assistant.library.loader import Library, load  # noqa: E402

FOLDER = ROOT / "grammars" / "meanings"
HASHES = ROOT / "assistant" / "language" / "net" / "hashes.py"
Clause = tuple[str, str, tuple[str, ...]]  # question key or "", words, meanings


def clauses(library: Library) -> Iterator[Clause]:
    """Every clause whose meaning is known, in an order that never changes."""
    yield from _phrases(library)
    for path in sorted(FOLDER.glob("*.tsv")):
        with path.open(encoding="utf-8", newline="") as file:
            for row in csv.DictReader(file, delimiter="\t", quoting=csv.QUOTE_NONE):
                yield from _clause(row, library)


def questions(library: Library) -> dict[str, str]:
    """The words of each question by its key."""
    return {f"{check.id}.{question.key}": question.say for check in library.checks.values() for question in check.ask}


def _phrases(library: Library) -> Iterator[Clause]:
    for symptom in library.symptoms.values():
        for words in (symptom.name, *symptom.phrases):
            yield "", plain(words), (f"indication:{symptom.id}",)
    for check in library.checks.values():
        for question in check.ask:
            key = f"{check.id}.{question.key}"
            for choice in question.choices:
                for words in choice.phrases:
                    yield key, plain(words), (f"{key}=choice:{choice.id}",)
    for phrase in command_phrases():
        kind, _, name = phrase.tag.partition(" ")
        if kind == "command":
            yield "", plain(phrase.words), (f"command:{name}",)


def _clause(row: dict[str, str], library: Library) -> Iterator[Clause]:
    """One line of a file as a clause; none for readings and for several facts at once, which other layers read."""
    known = questions(library)
    state = row["state"] if row["state"] in known else ""
    meanings = [part.strip() for part in row["meaning"].split("|")]
    kind = row["kind"]
    if kind == "reading":
        return
    if kind == "talk":
        meanings = ["talk"]
    elif kind == "volunteered":
        told = meanings[0]
        if not told.startswith("facts:") or " + " in told or "reading" in told:
            return
        meanings, state = [told.removeprefix("facts:")], ""
    else:
        meanings = ["command:check" if one.startswith("command:check") else one for one in meanings]
        meanings = [f"{state}={one}" if one.startswith("choice:") else one for one in meanings]
    yield state, plain(row["sentence"]), tuple(meanings)


def plain(words: str) -> str:
    """Lower case, single spaces, no stop at the end."""
    return re.sub(r"\s+", " ", words.lower().replace("’", "'")).strip(" .?!")


def main() -> None:
    """Write the exemplars."""
    library = load()
    asked = questions(library)
    known = list(dict.fromkeys(clauses(library)))
    pairs_said = [(asked.get(question, ""), words) for question, words, _ in known]
    marks = [_mark(*pair) for pair in pairs_said]
    kept = _kept()
    new = list(dict.fromkeys(pair for pair, mark in zip(pairs_said, marks, strict=True) if mark not in kept))
    kept |= dict(zip((_mark(*pair) for pair in new), Encoder(FOLDER, SHA256).encode(new), strict=True))
    vectors = np.stack([kept[mark] for mark in marks])
    pairs = [(place, meaning) for place, (_, _, meanings) in enumerate(known) for meaning in meanings]
    keys = sorted({meaning for _, meaning in pairs})
    number = {key: at for at, key in enumerate(keys)}
    told = {"keys": keys, "questions": asked}
    np.savez_compressed(
        FOLDER / exemplars.FILE,
        vectors=vectors.astype(np.float16),
        meanings=np.array([number[meaning] for _, meaning in pairs], np.int32),
        places=np.array([place for place, _ in pairs], np.int32),
        marks=np.array(marks),
        told=np.array(json.dumps(told, sort_keys=True)),
    )
    note_hash(exemplars.FILE)
    print(f"{len(known)} clauses, {len(new)} of them new, {len(keys)} meanings.")


def note_hash(name: str) -> None:
    """Write what the file of this name is now to where the product looks it up."""
    sha256 = hashlib.sha256((FOLDER / name).read_bytes()).hexdigest()
    text = HASHES.read_text(encoding="utf-8")
    HASHES.write_text(re.sub(rf'("{re.escape(name)}": )"\w+"', rf'\1"{sha256}"', text), encoding="utf-8")


def _mark(question: str, words: str) -> str:
    """Names a vector by all that it comes from: the model, that each text is run alone, and the two texts."""
    return hashlib.sha256("\0".join((SHA256[MODEL], "alone", question, words)).encode()).hexdigest()[:20]


def _kept() -> dict[str, np.ndarray]:
    """The vectors made before, by their marks."""
    path = FOLDER / exemplars.FILE
    if not path.is_file():
        return {}
    with np.load(path, allow_pickle=False) as stored:
        return dict(zip((str(mark) for mark in stored["marks"]), stored["vectors"].astype(np.float32), strict=True))


if __name__ == "__main__":
    main()
