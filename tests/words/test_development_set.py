"""The development set keeps its figures. It was tuned on, so this finds what breaks and proves nothing."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.dialogue.measuring import measured
from assistant.language.corpus import CorpusError, read
from assistant.language.measuring import Tally
from assistant.language.net import default_net
from assistant.library.loader import load

FOLDER = Path(__file__).parent
#: Every so manieth sentence; all of them take minutes.
EVERY = 9


@pytest.fixture(scope="module")
def tallies() -> dict[str, Tally]:
    return measured(sorted(FOLDER.glob("*.tsv")), load(), default_net(), [], EVERY)


@pytest.mark.parametrize(
    ("kind", "right", "wrong"),
    [
        ("complaint", 0.95, 0.02),
        ("answer", 0.95, 0.02),
        ("reading", 0.95, 0.02),
        ("command", 0.85, 0.05),
        ("question-back", 0.9, 0.05),
        ("cannot", 0.85, 0.1),
        ("emergency", 0.95, 0.05),
        ("volunteered", 0.8, 0.1),
    ],
)
def test_figures_hold(tallies: dict[str, Tally], kind: str, right: float, wrong: float) -> None:
    tally = tallies[kind]
    missed = [(outcome, row.sentence) for outcome, row, _ in tally.missed if outcome not in ("at once", "asked")]
    assert tally.share("at once", "asked") >= right, missed
    assert tally.share("wrong") <= wrong, missed


def test_talk_is_taken_for_nothing(tallies: dict[str, Tally]) -> None:
    talk = tallies["talk"]
    assert talk.share("wrong") <= 0.03, [row.sentence for outcome, row, _ in talk.missed if outcome == "wrong"]


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("sentence\tstate\n", "line 1: the columns must be"),
        ("sentence\tstate\tmeaning\tkind\nhello\tany\tnone\n", "line 2: 3 cells instead of 4"),
        ("sentence\tstate\tmeaning\tkind\nhello\tany\tgreeting:hi\ttalk\n", "line 2: the meaning"),
        ("sentence\tstate\tmeaning\tkind\nhello\tnowhere\tnone\ttalk\n", "line 2: there is no question"),
    ],
)
def test_a_spoilt_table_is_told_by_its_line(tmp_path: Path, text: str, what: str) -> None:
    table = tmp_path / "table.tsv"
    table.write_text(text, encoding="utf-8")
    with pytest.raises(CorpusError, match=what):
        read(table, lambda key: None)


def test_a_missing_table_is_told(tmp_path: Path) -> None:
    with pytest.raises(CorpusError, match="does not exist"):
        read(tmp_path / "none.tsv", lambda key: None)
