"""A recorded visit's folder: what is accepted, and what is said of one that is not right."""

from pathlib import Path

import pytest

from assistant.errors import LaddersideError
from assistant.visit.recording import RecordingError, load, load_script

SCRIPT = """\
title: A sensor off its curve
voice: hibari-heart
turns:
  - answers: visit.site
    say: blue mill bakery
    text: blue mill bakery
  - answers: pipe-sensor.resistance
    say: four point two kilohms
    again: four point two zero kilohms
    wait_s: 2
    readings:
      - {value: 4.2, unit: kohm}
    correction: correction four point two kilohms
  - answers: prove-dead.wait
    wait_s: 90
"""


def written(folder: Path, text: str = SCRIPT) -> Path:
    folder.mkdir(exist_ok=True)
    (folder / "script.yaml").write_text(text, encoding="utf-8")
    return folder


def test_clips_follow_from_the_script(tmp_path: Path) -> None:
    script = load_script(written(tmp_path))
    assert dict(script.spoken()) == {
        "yes-1.flac": "yes",
        "yes-2.flac": "yes",
        "no-1.flac": "no",
        "no-2.flac": "no",
        "01-visit-site-1.flac": "blue mill bakery",
        "01-visit-site-2.flac": "blue mill bakery",
        "02-pipe-sensor-resistance-1.flac": "four point two kilohms",
        "02-pipe-sensor-resistance-2.flac": "four point two zero kilohms",
        "02-pipe-sensor-resistance-correction-1.flac": "correction four point two kilohms",
        "02-pipe-sensor-resistance-correction-2.flac": "correction four point two kilohms",
    }


def test_yes_and_no_are_words_not_switches(tmp_path: Path) -> None:
    text = SCRIPT + "  - {answers: fan.turning, say: 'no', choice: no}\n"
    assert load_script(written(tmp_path, text)).turns[3].choices == ("no",)


def test_a_missing_clip_is_named_with_the_remedy(tmp_path: Path) -> None:
    folder = written(tmp_path)
    with pytest.raises(RecordingError, match=r"lacks room\.flac; .*python -m recordings_synthetic visit"):
        load(folder)
    (folder / "clips").mkdir()
    (folder / "room.flac").touch()
    for name, _ in load_script(folder).spoken():
        (folder / "clips" / name).touch()
    assert load(folder).name == folder.name
    (folder / "clips" / "no-2.flac").unlink()
    with pytest.raises(RecordingError, match=r"lacks clips/no-2\.flac"):
        load(folder)


@pytest.mark.parametrize(
    ("turn", "complaint"),
    [
        ("{answers: a.b, say: four volts}", "line 5.*one truth beside say"),
        ("{answers: a.b, say: four, choice: x, command: why}", "line 5.*one truth beside say"),
        ("{answers: a.b}", "line 5.*a pause"),
        ("{answers: a.b, say: why, command: why, wait: 3}", "line 5.*extra"),
        ("{answers: a.b, say: four, readings: [{unit: V}]}", "line 5.*value or a special"),
        ("{answers: a.b, wait_s: -1}", "line 5.*greater than"),
    ],
)
def test_a_wrong_turn_is_told_with_its_line(tmp_path: Path, turn: str, complaint: str) -> None:
    text = f"title: x\nturns:\n  - answers: visit.site\n    wait_s: 1\n  - {turn}\n"
    with pytest.raises(LaddersideError, match=rf"(?s)script\.yaml, {complaint}"):
        load_script(written(tmp_path, text))


def test_a_folder_without_script_and_two_turns_of_one_name(tmp_path: Path) -> None:
    with pytest.raises(RecordingError, match=r"no script\.yaml"):
        load_script(tmp_path)
    same = "title: x\nturns:\n" + "  - {id: same, answers: a.b, wait_s: 1}\n" * 2
    with pytest.raises(RecordingError, match="two turns are called 'same'"):
        load_script(written(tmp_path, same))
