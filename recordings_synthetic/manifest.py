"""``manifest.csv``: every committed sound file with its words, voice, noise, seed and licence."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import NamedTuple

COLUMNS = ("file", "words", "voice", "noise", "snr_db", "seed", "licence")


class Row(NamedTuple):
    """One file. ``snr_db`` is the active speech level (ITU-T P.56) over the noise's RMS; empty: no noise added."""

    file: Path
    words: str
    voice: str
    noise: str
    snr_db: str
    seed: str
    licence: str


def read(manifest: Path) -> list[dict[str, str]]:
    """The rows as they stand; file names are relative to the manifest's folder. Empty when there is none."""
    if not manifest.exists():
        return []
    with manifest.open(newline="", encoding="utf-8") as lines:
        return list(csv.DictReader(lines))


def replace(manifest: Path, folder: Path, rows: Sequence[Row]) -> None:
    """Puts ``rows`` in the place of all that the manifest said of files in ``folder``; sorted by file."""
    inside = folder.resolve().relative_to(manifest.resolve().parent).as_posix() + "/"
    kept = [row for row in read(manifest) if not row["file"].startswith(inside)]
    made = [_named(row, manifest) for row in rows]
    with manifest.open("w", newline="", encoding="utf-8") as out:
        writer = csv.DictWriter(out, COLUMNS, lineterminator="\n")
        writer.writeheader()
        writer.writerows(_by_file([*kept, *made]))


def _named(row: Row, manifest: Path) -> dict[str, str]:
    name = row.file.resolve().relative_to(manifest.resolve().parent).as_posix()
    return {**row._asdict(), "file": name}


def _by_file(rows: Iterable[dict[str, str]]) -> list[dict[str, str]]:
    return sorted(rows, key=lambda row: row["file"])
