"""What free-text ears write, and what it means: the table ``written_words.csv``.

Columns: state (of ``states.py``), written, meaning (as ``telling.py`` tells it, "?" behind a doubtful one), and where
the line comes from: an issue, the design, thought of, or really heard by tiny.en from a synthetic voice.
"""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from assistant.language.interpret import interpret
from tests.language.states import STATES
from tests.language.telling import heard

with (Path(__file__).parent / "written_words.csv").open(encoding="utf-8", newline="") as file:
    TABLE = list(csv.DictReader(file))


@pytest.mark.parametrize("row", TABLE, ids=lambda row: f"{row['state']}: {row['written']}")
def test_written_words(row: dict[str, str]) -> None:
    assert heard(interpret(row["written"], STATES[row["state"]])) == row["meaning"]


def test_the_table_is_large_and_names_its_sources() -> None:
    assert len(TABLE) >= 150
    assert all(row["from"] for row in TABLE)
