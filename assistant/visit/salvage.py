"""Reads what can still be read of a damaged journal, page by page, without SQLite's help.

SQLite gives up a table where one page of its tree is broken. The rows themselves stand in leaf pages, each of which
can be read alone ("Database File Format", sqlite.org/fileformat2.html, sections 1.5, 1.6, 2 and 4, looked up): so every
page of the file and of its write-ahead file is looked at, and every row that has the shape of a visit, a fact or a link
is taken. Journals are append-only, so an old copy of a row is the same row.
"""

from __future__ import annotations

import contextlib
import mmap
import re
import struct
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from assistant.dialogue.facts import FACT
from assistant.visit.schema import mark

_LEAF = 0x0D
_USUAL_PAGE = 4096
_LONGEST_ROW = 50_000_000
_WAL_HEADER, _FRAME_HEADER = 32, 24
_LINK = re.compile(r"[0-9a-f]{64}\Z")
_VISIT = re.compile(r"\d{4}-\d\d-\d\d-\d{1,6}\Z")
#: Sizes of the numbers with serial types 1 to 6 (7 is a float).
_INT_SIZES = (0, 1, 2, 3, 4, 6, 8)
Value = None | int | float | str | bytes


@dataclass(frozen=True)
class VisitFound:
    """A visit as it stood in the file; ``rowid`` is its place in the journal's order."""

    rowid: int
    id: str
    opened_at: str
    origin: str


@dataclass(frozen=True)
class FactFound:
    """A fact as it stood in the file; ``mark`` fits it, or it is from before there were marks."""

    rowid: int
    visit: str
    seq: int
    at: str
    at_s: float
    kind: str
    body: str
    mark: str | None


@dataclass(frozen=True)
class Broken:
    """A row that names its visit and number and can no longer be read."""

    visit: str
    seq: int


@dataclass(frozen=True)
class LinkFound:
    """A link of a visit's chain as it stood in the file."""

    visit: str
    seq: int
    link: str


Found = VisitFound | FactFound | LinkFound | Broken


def salvage(journal: Path, wal: Path) -> Iterator[Found]:
    """Every readable row of the file and its write-ahead file, some of them more than once. Raises OSError."""
    with _mapped(journal) as data, _mapped(wal) as frames:
        pages = _Pages(data, frames)
        for number, page in pages.all():
            for rowid, row in _rows(page, number == 1, pages):
                found = _as_found(rowid, row)
                if found is not None:
                    yield found


@contextlib.contextmanager
def _mapped(path: Path) -> Iterator[bytes | mmap.mmap]:
    """The file's bytes without taking them into memory; none when there is no such file or nothing in it."""
    if not path.exists() or path.stat().st_size == 0:
        yield b""
        return
    with path.open("rb") as file, mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ) as data:
        yield data


class _Pages:
    """The pages of a journal by number: those of the write-ahead file stand for those of the file."""

    def __init__(self, data: bytes | mmap.mmap, frames: bytes | mmap.mmap) -> None:
        self.size = _page_size(data, frames)
        self._data, self._frames = data, frames
        self._newer = {int.from_bytes(frames[at : at + 4], "big"): at for at in self._frame_places()}

    def _frame_places(self) -> range:
        step = _FRAME_HEADER + self.size
        return range(_WAL_HEADER, len(self._frames) - step + 1, step)

    def all(self) -> Iterator[tuple[int, bytes]]:
        """Every page there is, also what was replaced and what was never committed: a row is a row."""
        for number in range(1, len(self._data) // self.size + 1):
            yield number, self._in_file(number)
        for at in self._frame_places():
            yield int.from_bytes(self._frames[at : at + 4], "big"), self._in_frame(at)

    def __getitem__(self, number: int) -> bytes:
        """The newest page of this number; empty when there is none."""
        at = self._newer.get(number)
        return self._in_file(number) if at is None else self._in_frame(at)

    def _in_file(self, number: int) -> bytes:
        return self._data[(number - 1) * self.size : number * self.size] if number > 0 else b""

    def _in_frame(self, at: int) -> bytes:
        return self._frames[at + _FRAME_HEADER : at + _FRAME_HEADER + self.size]


def _page_size(data: bytes | mmap.mmap, frames: bytes | mmap.mmap) -> int:
    told = int.from_bytes(data[16:18], "big") if data[:15] == b"SQLite format 3" else 0
    if not told and len(frames) >= _WAL_HEADER:
        told = int.from_bytes(frames[8:12], "big")
    told = 65536 if told == 1 else told
    return told if 512 <= told <= 65536 and told & (told - 1) == 0 else _USUAL_PAGE


def _as_found(rowid: int, row: list[Value]) -> Found | None:
    """The row as a visit or a fact, if it has the shape of one."""
    if len(row) == 3:
        visit, opened_at, origin = row
        if _is_visit(visit) and _is_time(opened_at) and isinstance(origin, str) and len(origin) < 40:
            return VisitFound(rowid, str(visit), str(opened_at), origin)
        if _is_visit(visit) and isinstance(opened_at, int) and isinstance(origin, str) and _LINK.match(origin):
            return LinkFound(str(visit), opened_at, origin)
    if len(row) not in (6, 7):
        return None
    visit, seq, at, at_s, kind, body, told = row if len(row) == 7 else (*row, None)
    if not (_is_visit(visit) and isinstance(seq, int) and 0 < seq < 10_000_000):
        return None
    broken = Broken(str(visit), seq)
    if not (_is_time(at) and isinstance(at_s, int | float) and isinstance(kind, str) and isinstance(body, str)):
        return broken
    fact = FactFound(rowid, str(visit), seq, str(at), float(at_s), kind, body, told if isinstance(told, str) else None)
    if told is None:
        return fact if _reads(kind, body) else broken
    return fact if told == mark(fact.visit, seq, fact.at, fact.at_s, kind, body) else broken


def _is_visit(value: Value) -> bool:
    return isinstance(value, str) and _VISIT.match(value) is not None


def _is_time(value: Value) -> bool:
    try:
        return isinstance(value, str) and datetime.fromisoformat(value).year > 1970
    except ValueError:
        return False


def _reads(kind: str, body: str) -> bool:
    try:
        return FACT.validate_json(body).kind == kind
    except (ValueError, RecursionError):
        return False


def _rows(page: bytes, first: bool, pages: _Pages) -> Iterator[tuple[int, list[Value]]]:
    """The rows in a leaf page of a table; none where it is something else or broken."""
    head = 100 if first else 0
    if len(page) < pages.size or page[head] != _LEAF:
        return
    count = int.from_bytes(page[head + 3 : head + 5], "big")
    for place in range(min(count, pages.size // 4)):
        at = int.from_bytes(page[head + 8 + 2 * place : head + 10 + 2 * place], "big")
        try:
            length, at = _varint(page, at)
            rowid, at = _varint(page, at)
            yield rowid, list(_values(_payload(page, at, length, pages)))
        except (IndexError, ValueError):
            continue


def _payload(page: bytes, at: int, length: int, pages: _Pages) -> bytes:
    """A row's bytes, also those that overflow into other pages."""
    if length > _LONGEST_ROW:
        raise ValueError("no row of ours is so long")
    most, least = pages.size - 35, (pages.size - 12) * 32 // 255 - 23
    local = length
    if length > most:
        local = least + (length - least) % (pages.size - 4)
        local = local if local <= most else least
    pieces, have = [page[at : at + local]], local
    following = int.from_bytes(page[at + local : at + local + 4], "big") if local < length else 0
    visited: set[int] = set()
    while have < length:
        more = pages[following]
        if following in visited or len(more) < pages.size:
            raise ValueError("the row goes on in a page that is not there")
        visited.add(following)
        pieces.append(more[4 : 4 + length - have])
        have += len(pieces[-1])
        following = int.from_bytes(more[:4], "big")
    return b"".join(pieces)


def _values(payload: bytes) -> Iterator[Value]:
    """The columns of one row."""
    size, at = _varint(payload, 0)
    if size > len(payload) or size > 200:
        raise ValueError("this is no row of ours")
    types = []
    while at < size:
        kind, at = _varint(payload, at)
        types.append(kind)
    for kind in types:
        length = _length(kind)
        piece = payload[at : at + length]
        if len(piece) != length:
            raise ValueError("a column is cut off")
        at += length
        yield _value(kind, piece)


def _length(kind: int) -> int:
    if kind <= 6:
        return _INT_SIZES[kind]
    if kind == 7:
        return 8
    return (kind - 12) // 2 if kind >= 12 else 0


def _value(kind: int, piece: bytes) -> Value:
    if kind == 0:
        return None
    if kind <= 6:
        return int.from_bytes(piece, "big", signed=True)
    if kind == 7:
        number: float = struct.unpack(">d", piece)[0]
        return number
    if kind in (8, 9):
        return kind - 8
    return piece if kind % 2 == 0 else piece.decode("utf-8")


def _varint(data: bytes, at: int) -> tuple[int, int]:
    """A number of one to nine bytes and where it ends."""
    value = 0
    for place in range(8):
        byte = data[at + place]
        value = value << 7 | byte & 0x7F
        if not byte & 0x80:
            return value, at + place + 1
    return value << 8 | data[at + 8], at + 9
