"""What a terminal is shown: broken between words where it is narrow, one line each in a file or a pipe."""

from __future__ import annotations

from io import StringIO

import pytest

from assistant.visit.transcript import Transcript

LONG = "The visit is held until somebody has looked at the disk, which seems to be full; say carry on to try it again."


class Terminal(StringIO):
    """A terminal, as far as a program can tell."""

    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize(("columns", "widest"), [("60", 59), ("200", 199), ("5", 40)])
def test_a_narrow_terminal_gets_whole_words(monkeypatch: pytest.MonkeyPatch, columns: str, widest: int) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    out = Terminal()
    Transcript(out).remark(LONG)
    lines = out.getvalue().splitlines()
    assert max(map(len, lines)) <= widest
    assert len(lines) > 1 or widest > 100
    assert " ".join(out.getvalue().split()) == f"· {LONG}"
    assert all(line.startswith("     ") for line in lines[1:])


def test_a_pipe_gets_one_line(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "60")
    out = StringIO()
    Transcript(out).remark(LONG)
    assert out.getvalue() == f"  ·  {LONG}\n"


def test_nothing_in_it_steers_a_terminal() -> None:
    out = Terminal()
    Transcript(out).trouble("\x1b[2Jgone", ["live\u202e"])
    assert "\x1b" not in out.getvalue()
    assert "\\x1b[2Jgone" in out.getvalue()
    assert "live\\u202e" in out.getvalue()
