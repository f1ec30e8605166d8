"""Runs the product as its user does: the command line, with a data folder of its own."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.fixture
def home(tmp_path, monkeypatch):
    """A fresh data folder."""
    folder = tmp_path / "home"
    monkeypatch.setenv("LADDERSIDE_HOME", str(folder))
    return folder


@pytest.fixture
def ladderside(home):
    """``ladderside(*words, input="")`` runs the command and returns the finished process."""

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
