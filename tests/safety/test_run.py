"""The campaign of random visits goes on where it stopped, and names the seeds that broke a rule."""

import json
import sys

import pytest

from tests.safety import run
from tests.safety.rules import Break
from tests.safety.visits import Watched


def led(monkeypatch, capsys, *words):
    def one(seed, turns):
        breaks = [(3, Break("a-rule", "so"))] if seed == 12 else []
        return Watched(seed, turns=5, closing="mended", breaks=breaks)

    monkeypatch.setattr(run, "lead", one)
    monkeypatch.setattr(sys, "argv", ["run", *words])
    with pytest.raises(SystemExit) as ended:
        run.main()
    return ended.value.code, capsys.readouterr().out


def test_pieces_follow_each_other_until_all_are_done(monkeypatch, capsys, tmp_path):
    kept = tmp_path / "kept.jsonl"
    piece = ("--visits", "4", "--seed", "10", "--kept", str(kept))
    code, said = led(monkeypatch, capsys, *piece, "--seconds", "0")
    assert (code, "in all 1 of 4 visits, 0 with a break" in said) == (0, True)
    code, said = led(monkeypatch, capsys, *piece)
    assert code == 1
    assert "seed 12, utterance 3: a-rule: so" in said
    assert "in all 4 of 4 visits, 1 with a break: seeds [12]" in said
    assert [json.loads(line)["first"] for line in kept.read_text().splitlines()] == [10, 11]
    code, said = led(monkeypatch, capsys, *piece)
    assert (code, "0 visits from seed 14" in said) == (0, True)
