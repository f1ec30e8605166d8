"""Every reply of a replay can be found in its file, and heard."""

import csv
from itertools import pairwise

import numpy as np
import pytest
import soundfile as sf

from assistant.hearing.sound.levels import level_db
from assistant.speaking.file_voice import GAP_S, FileVoice, ReplyFileError

LINES = ("Is the power off?", "U–V 4.2 kΩ, within its limits.", "Then measure P to N.")


@pytest.mark.parametrize("name", ["reply.flac", "reply.wav"])
def test_each_line_stands_where_its_cue_says(tmp_path, name):
    voice = FileVoice(tmp_path / "made" / name)
    for line in LINES:
        speech = voice.say(line)
        assert speech.done
        assert speech.wait()
    voice.close()
    sound, rate = sf.read(tmp_path / "made" / name)
    rows = list(csv.DictReader(voice.cue_path.open(encoding="utf-8")))
    assert [row["text"] for row in rows] == list(LINES)
    places = [(float(row["start_s"]), float(row["end_s"])) for row in rows]
    for start, end in places:
        assert level_db(sound[round(start * rate) : round(end * rate)]) > -20
    for (_, end), (start, _) in pairwise(places):
        assert start - end == pytest.approx(GAP_S, abs=0.002)
        assert np.abs(sound[round(end * rate) + 30 : round(start * rate) - 30]).max() == 0  # cues are in milliseconds


def test_cues_are_there_before_the_file_is_closed(tmp_path):
    voice = FileVoice(tmp_path / "reply.flac")
    voice.say(LINES[0])
    assert LINES[0] in voice.cue_path.read_text(encoding="utf-8")
    voice.close()


def test_slower(tmp_path):
    voice = FileVoice(tmp_path / "reply.flac")
    voice.say(LINES[1])
    voice.pace = 0.8
    voice.say(LINES[1])
    voice.close()
    usual, slower = (cue.end_s - cue.start_s for cue in voice.cues)
    assert slower == pytest.approx(usual / 0.8, rel=0.1)


@pytest.mark.parametrize("path", ["reply.xyz", "taken/reply.flac"])
def test_a_file_that_cannot_be_written(tmp_path, path):
    (tmp_path / "taken").write_text("a file where a folder is needed")
    with pytest.raises(ReplyFileError, match="cannot be written") as caught:
        FileVoice(tmp_path / path)
    assert "\n" not in str(caught.value)
