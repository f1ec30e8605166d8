"""A few hundred spoilt inputs of every kind: each ends well or in one sentence. The campaign tries many more."""

import time

import numpy as np
import pytest
import soundfile as sf

from assistant.errors import LaddersideError
from assistant.hearing.sound.files import SoundFileError, load
from tests.robust.attacks import TARGETS, attack

#: Loading all knowledge takes a tenth of a second.
EACH = {"own profiles": 4}


@pytest.mark.parametrize("kind", TARGETS)
def test_spoilt_input_ends_well_or_in_one_sentence(kind):
    outcome = attack(kind, range(EACH.get(kind, 20)), patience_s=60)
    assert outcome.finds == []
    assert outcome.tried == EACH.get(kind, 20)


def test_an_attack_that_is_taken_badly_is_found(monkeypatch):
    def badly(folder):
        nothing: dict[str, str] = {}
        return lambda chance: ("x", lambda: nothing["missing"])

    monkeypatch.setitem(TARGETS, "badly", badly)
    [find] = attack("badly", range(1)).finds
    assert find.what == "KeyError: 'missing'"


def test_spoilt_inputs_are_really_refused():
    """Guards against an attack that spoils nothing."""
    for kind in ("sounds", "profiles", "scripts"):
        assert attack(kind, range(20), patience_s=60).refused > 5


@pytest.mark.parametrize("name", ["x.raw", "x.RAW", "x.pcm", "x.sd2", "x", "x."])
def test_sound_that_tells_no_rate_is_one_sentence(tmp_path, name):
    (tmp_path / name).write_bytes(np.zeros(16_000, np.int16).tobytes())
    with pytest.raises(SoundFileError, match="save it as WAV or FLAC"):
        load(tmp_path / name)


@pytest.mark.parametrize("snr", ["nan", "inf", "1e9", "-1000"])
def test_a_ratio_that_is_none_is_refused(tmp_path, snr, capsys):
    from assistant.commands.main import main

    with pytest.raises(SystemExit) as ended:
        main(["measure-hearing", str(tmp_path), "--snr", snr])
    assert ended.value.code == 2
    assert "is no ratio of speech to noise" in capsys.readouterr().err


@pytest.mark.parametrize("name", ["transcripts.csv", "expectations.json"])
def test_a_table_that_is_no_utf_8_is_one_sentence(tmp_path, name):
    from assistant.measuring.hearing import read_set

    sf.write(tmp_path / "one.flac", np.zeros(1600), 16_000)
    (tmp_path / "transcripts.csv").write_text("file,speaker,kind,text\none.flac,ada,number,one\n")
    (tmp_path / name).write_bytes("file,speaker,kind,text\none.flac,Jürgen,number,one\n".encode("latin-1"))
    with pytest.raises(LaddersideError, match="save it again as UTF-8"):
        read_set(tmp_path)


def test_a_line_of_a_million_signs_is_answered_at_once(context, tmp_path):
    from datetime import datetime

    from assistant.visit.journal import Journal
    from assistant.visit.session import RealClock, Session

    session = Session.begin(context, Journal(tmp_path / "journal.sqlite"), RealClock(), "typed", datetime(2026, 1, 1))
    session.open()
    turn = session.type("one " * 250_000)
    assert "too long" in turn.replies[0].text
    assert session.expectation.question == "visit.site"
    assert (tmp_path / "journal.sqlite-wal").stat().st_size < 200_000


def test_a_word_without_end_is_answered_at_once(context, tmp_path):
    """2,000 nines: a rule for "Tom takes over" tried every way to cut them into four words, for hours."""
    from datetime import datetime

    from assistant.visit.journal import Journal
    from assistant.visit.session import RealClock, Session

    session = Session.begin(context, Journal(tmp_path / "journal.sqlite"), RealClock(), "typed", datetime(2026, 1, 1))
    session.open()
    for line in ("mill lane", "copper wren solo", "leaf lamp blinks slowly"):
        session.type(line)
    began = time.process_time()
    session.type("9" * 2000)
    assert time.process_time() - began < 2
