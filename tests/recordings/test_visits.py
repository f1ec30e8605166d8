"""Making a visit's clips: the noise stands where the script says, and the same script makes the same files."""

from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.hearing.sound.files import load as load_sound
from assistant.measuring.noise import speech_level
from assistant.visit.recording import load
from recordings_synthetic import manifest, visits
from recordings_synthetic.__main__ import main
from recordings_synthetic.engines import EngineError

SCRIPT = """\
title: test
voice: espeak-american
noise: pump
snr_db: 12
seed: 5
turns:
  - {id: site, answers: visit.site, say: blue mill bakery, text: blue mill bakery}
  - {id: rest, answers: a.wait, wait_s: 3}
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "script.yaml").write_text(SCRIPT, encoding="utf-8")
    return tmp_path


def test_clips_hold_words_over_the_stated_noise(folder: Path) -> None:
    rows = visits.make(folder)
    visit = load(folder)
    assert [row.file.name for row in rows] == ["room.flac", *visit.words]
    room = load_sound(visit.room)
    noise_level = float(np.sqrt(np.mean(np.square(room, dtype=np.float64))))
    clip = load_sound(visit.clip("site-1.flac"))
    assert 20 * np.log10(speech_level(clip) / noise_level) == pytest.approx(12, abs=1)
    lead = float(np.sqrt(np.mean(np.square(clip[: 16 * 250], dtype=np.float64))))
    assert lead == pytest.approx(noise_level, rel=0.4)
    assert len(load_sound(visit.clip("site-2.flac"))) > len(clip)  # second takes are slower
    assert soundfile.info(visit.room).subtype == "PCM_16"


def test_made_again_is_the_same_and_strays_are_removed(folder: Path) -> None:
    visits.make(folder)
    before = {path.name: path.read_bytes() for path in folder.rglob("*.flac")}
    (folder / "clips" / "left-over.flac").write_bytes(b"old")
    visits.make(folder)
    assert {path.name: path.read_bytes() for path in folder.rglob("*.flac")} == before


def test_a_voice_that_may_not_be_shipped_makes_no_visit(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    script = folder / "script.yaml"
    script.write_text(SCRIPT.replace("espeak-american", "piper-joe"), encoding="utf-8")
    with pytest.raises(EngineError, match="not to be shipped"):
        visits.make(folder)
    assert main(["visit", str(folder)]) == 2
    assert capsys.readouterr().err.count("\n") == 1


def test_the_manifest_replaces_one_folder_and_keeps_the_rest(tmp_path: Path) -> None:
    file = tmp_path / "manifest.csv"
    one, two = tmp_path / "one", tmp_path / "two"
    row = manifest.Row(one / "a.flac", "yes, please", "v", "fan", "12", "1", "free")
    manifest.replace(file, one, [row])
    manifest.replace(file, two, [row._replace(file=two / "b.flac")])
    manifest.replace(file, one, [row._replace(file=one / "c.flac")])
    assert [line["file"] for line in manifest.read(file)] == ["one/c.flac", "two/b.flac"]
    assert manifest.read(file)[0]["words"] == "yes, please"
