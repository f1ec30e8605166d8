"""Runs the product as its user does: the command line, with a data folder of its own."""

import io
import os
import subprocess
import sys
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path

import pytest

from assistant.commands.main import main

ROOT = Path(__file__).parents[2]


@pytest.fixture
def home(tmp_path, monkeypatch):
    """A fresh data folder."""
    folder = tmp_path / "home"
    monkeypatch.setenv("LADDERSIDE_HOME", str(folder))
    return folder


@dataclass(frozen=True)
class Done:
    """What a command left: its exit status and what it printed."""

    returncode: int
    stdout: str
    stderr: str


@pytest.fixture
def ladderside(home, monkeypatch):
    """``ladderside(*words, input="")`` runs the command in this process, as ``python -m assistant`` would."""

    def run(*words: str, input: str = "") -> Done:
        monkeypatch.chdir(ROOT)
        out, err = _Stream(), _Stream()
        with monkeypatch.context() as streams, redirect_stdout(out), redirect_stderr(err):
            streams.setattr(sys, "stdin", _Stream(input))
            try:
                status = main(list(words))
            except SystemExit as stopped:  # argparse
                status = stopped.code if isinstance(stopped.code, int) else 1
        return Done(status, out.getvalue(), err.getvalue())

    return run


class _Stream(io.StringIO):
    """Text that no terminal shows; it has the encoding of one."""

    encoding = "utf-8"


@pytest.fixture
def in_its_own_process(home):
    """``in_its_own_process(*words, input="")`` as the shell runs it; for what a process alone can show."""

    def run(*words: str, input: str = "") -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-m", "assistant", *words],
            input=input,
            capture_output=True,
            text=True,
            cwd=ROOT,
            env={**os.environ, "LADDERSIDE_HOME": str(home)},
            timeout=300,
        )

    return run


@pytest.fixture(scope="session")
def context():
    """The shipped library with its reasoners."""
    from assistant.library.loader import load
    from assistant.visit.session import Knowledgeable

    return Knowledgeable(load())
