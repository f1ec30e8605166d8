"""Ways to damage a journal, one for each seed: what disks, copies, editors and other programs have done to files."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from random import Random

from assistant.dialogue import facts as f
from assistant.visit.journal import Journal

AT = datetime(2026, 3, 4, 9, 30)
PAGE = 4096


def filled(path: Path, visits: int = 3, turns: int = 40) -> dict[str, list[f.Fact]]:
    """A journal with some visits; the facts of each. Some bodies are longer than a page."""
    journal = Journal(path)
    written: dict[str, list[f.Fact]] = {}
    for number in range(visits):
        visit = journal.open_visit(AT + timedelta(hours=number), "typed")
        written[visit] = []
        for turn in range(turns):
            long = "word " * (2000 if turn % 13 == 5 else 4)
            facts: list[f.Fact] = [
                f.Noted(topic="site", value=f"{visit} {turn}", words=long),
                f.Said(text=f"Turn {turn}: {long}", about="question"),
            ]
            journal.append(visit, AT, float(turn), facts)
            written[visit] += facts
    journal.close()
    return written


def damage(path: Path, seed: int) -> str:
    """Spoil the file; says how."""
    chance = Random(seed)
    way = WAYS[seed % len(WAYS)]
    path.write_bytes(bytes(way(bytearray(path.read_bytes()), chance)))
    return way.__name__


def _one_bit(data: bytearray, chance: Random) -> bytearray:
    data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)
    return data


def _some_bytes(data: bytearray, chance: Random) -> bytearray:
    for _ in range(20):
        data[chance.randrange(len(data))] = chance.randrange(256)
    return data


def _a_page_of_zeros(data: bytearray, chance: Random) -> bytearray:
    at = chance.randrange(len(data) // PAGE) * PAGE
    data[at : at + PAGE] = bytes(PAGE)
    return data


def _a_page_of_noise(data: bytearray, chance: Random) -> bytearray:
    at = chance.randrange(len(data) // PAGE) * PAGE
    data[at : at + PAGE] = chance.randbytes(PAGE)
    return data


def _two_pages_exchanged(data: bytearray, chance: Random) -> bytearray:
    one, other = (chance.randrange(len(data) // PAGE) * PAGE for _ in range(2))
    data[one : one + PAGE], data[other : other + PAGE] = data[other : other + PAGE], data[one : one + PAGE]
    return data


def _cut_off(data: bytearray, chance: Random) -> bytearray:
    return data[: chance.randrange(1, len(data))]


def _first_page_gone(data: bytearray, chance: Random) -> bytearray:
    data[:PAGE] = bytes(PAGE)
    return data


def _header_spoilt(data: bytearray, chance: Random) -> bytearray:
    at = chance.randrange(100)
    data[at : at + 8] = chance.randbytes(8)
    return data


def _bytes_lost(data: bytearray, chance: Random) -> bytearray:
    at = chance.randrange(len(data))
    del data[at : at + chance.randrange(1, 5000)]
    return data


def _line_ends_changed(data: bytearray, chance: Random) -> bytearray:
    return bytearray(bytes(data).replace(b"\n", b"\r\n"))


def _emptied(data: bytearray, chance: Random) -> bytearray:
    return bytearray()


def _another_file(data: bytearray, chance: Random) -> bytearray:
    return bytearray(b"%PDF-1.7\n" + chance.randbytes(3000))


def _half_of_zeros(data: bytearray, chance: Random) -> bytearray:
    data[len(data) // 2 :] = bytes(len(data) - len(data) // 2)
    return data


def _a_word_altered(data: bytearray, chance: Random) -> bytearray:
    places = [at for at in range(len(data) - 4) if data[at : at + 4] == b"Turn"]
    at = chance.choice(places)
    data[at : at + 4] = b"Torn"
    return data


def _a_number_altered(data: bytearray, chance: Random) -> bytearray:
    places = [at for at in range(len(data) - 5) if data[at : at + 5] == b"Turn "]
    at = chance.choice(places) + 5
    data[at] = ord("9") if data[at] != ord("9") else ord("8")
    return data


WAYS: tuple[Callable[[bytearray, Random], bytearray], ...] = (
    _one_bit,
    _some_bytes,
    _a_page_of_zeros,
    _a_page_of_noise,
    _two_pages_exchanged,
    _cut_off,
    _first_page_gone,
    _header_spoilt,
    _bytes_lost,
    _line_ends_changed,
    _emptied,
    _another_file,
    _half_of_zeros,
    _a_word_altered,
    _a_number_altered,
)
