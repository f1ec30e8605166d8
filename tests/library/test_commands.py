"""``ladderside library`` and ``ladderside profile`` as a user runs them."""

from __future__ import annotations

import argparse
import io
import json
from pathlib import Path

import pytest
from PIL import Image

from assistant.commands import library as library_command
from assistant.commands import profile as profile_command
from assistant.data.errors import DataFolderError, LibraryError
from assistant.data.images import ImageError
from assistant.library.loader import Library, load
from assistant.profiling.shelf import plate_picture


@pytest.fixture(autouse=True)
def home(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """A user's data folder of its own for each test."""
    monkeypatch.setenv("LADDERSIDE_HOME", str(tmp_path / "home"))
    return tmp_path / "home"


def run(*words: str) -> int:
    """One command line, as the entry point would take it."""
    parser = argparse.ArgumentParser()
    commands = parser.add_subparsers(required=True)
    library_command.add_parser(commands)
    profile_command.add_parser(commands)
    args = parser.parse_args(words)
    return int(args.func(args))


def test_library_counts(capsys: pytest.CaptureFixture[str], library: Library) -> None:
    status = run("library", "--json")
    told = json.loads(capsys.readouterr().out)
    assert told["suspects"] == len(library.suspects)
    assert told["checks"] == len(library.checks)
    assert sum(system["checks"] for system in told["systems"].values()) == told["checks"]
    assert status == (2 if told["problems"] else 0)


def test_library_page_names_problems(capsys: pytest.CaptureFixture[str], home: Path, library: Library) -> None:
    text = library.files["profile", "copper-wren-solo"].read_text(encoding="utf-8")
    file = home / "profiles" / "mine.yaml"
    file.parent.mkdir(parents=True)
    file.write_text(text.replace("symptom: inverter-trip", "symptom: inverter-trap"), encoding="utf-8")
    assert run("library") == 2
    page = capsys.readouterr().out
    assert "mine.yaml, line" in page
    assert "there is no symptom called “inverter-trap”; did you mean “inverter-trip”" in page


def test_a_broken_profile_of_ones_own_is_named_and_stops_nothing(
    capsys: pytest.CaptureFixture[str], home: Path
) -> None:
    file = home / "profiles" / "mine.yaml"
    file.parent.mkdir(parents=True)
    file.write_text("id: mine\nmake: [unclosed\n", encoding="utf-8")
    assert run("library") == 2
    assert "mine.yaml, line 3: this is not YAML" in capsys.readouterr().out
    assert run("profile", "check") == 2
    assert "mine.yaml, line 3: this is not YAML" in capsys.readouterr().out
    assert run("profile", "show") == 0
    told = capsys.readouterr()
    assert "copper-wren-solo" in told.out
    assert told.err.count("\n") == 1
    assert "This profile of yours is set aside, all others are used. mine.yaml, line 3: this is not YAML" in told.err


def test_unusual_figures_are_said_back(capsys: pytest.CaptureFixture[str], library: Library, tmp_path: Path) -> None:
    text = library.files["profile", "copper-wren-solo"].read_text(encoding="utf-8")
    file = tmp_path / "given.yaml"
    file.write_text(text.replace("capacitance_uf: 1360", "capacitance_uf: 136"), encoding="utf-8")
    assert run("profile", "check", str(file)) == 0
    assert (
        "bus: capacitance_uf is 136; usual is 200 to 6000; leave it if the manual says so." in capsys.readouterr().out
    )


def _typed(monkeypatch: pytest.MonkeyPatch, lines: list[str]) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("".join(line + "\n" for line in lines)))


NEEDED = ["Willow Bend", "Duo Nine", "skip", "the manual", "two thirty", "fifty hertz"]
NEEDED += ["skip", "skip", "thirty two", "one kilogram"]


def test_new_stopped_and_resumed(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], home: Path
) -> None:
    _typed(monkeypatch, NEEDED)
    assert run("profile", "new") == 2
    assert "10 answers are kept" in capsys.readouterr().out
    _typed(monkeypatch, ["skip"] * 4 + ["one"] + ["skip"] * 60)
    assert run("profile", "new") == 0
    assert "say “willow bend duo nine” on a visit" in capsys.readouterr().out
    assert load().profiles["willow-bend-duo-nine"].refrigerant.name == "R32"
    assert not (home / "profile-draft.json").exists()


def test_new_does_not_write_over_another(monkeypatch: pytest.MonkeyPatch, home: Path) -> None:
    whole = [*NEEDED, *["skip"] * 4, "one", *["skip"] * 60]
    _typed(monkeypatch, whole)
    assert run("profile", "new") == 0
    _typed(monkeypatch, whole)
    with pytest.raises(DataFolderError, match=r"You have a profile willow-bend-duo-nine already.*--replace"):
        run("profile", "new")
    assert (home / "profile-draft.json").exists()  # the answers are not lost
    _typed(monkeypatch, [])
    assert run("profile", "new", "--replace") == 0


def test_new_from_a_file_keeps_it_as_written(home: Path, library: Library, tmp_path: Path) -> None:
    text = library.files["profile", "copper-wren-solo"].read_text(encoding="utf-8")
    file = tmp_path / "given.yaml"
    file.write_text(text.replace("charge_kg: 0.95", "charge_kg: 1.2"), encoding="utf-8")
    assert run("profile", "new", "--from", str(file)) == 0
    kept = home / "profiles" / "copper-wren-solo.yaml"
    assert kept.read_text(encoding="utf-8") == file.read_text(encoding="utf-8")
    assert load().profiles["copper-wren-solo"].refrigerant.charge_kg == 1.2
    with pytest.raises(DataFolderError, match="--replace"):
        run("profile", "new", "--from", str(file))


def test_new_from_a_wrong_file_keeps_nothing(home: Path, tmp_path: Path) -> None:
    file = tmp_path / "given.yaml"
    file.write_text("id: mine\nmake: X\n", encoding="utf-8")
    with pytest.raises(LibraryError, match=r"given\.yaml.*add it"):
        run("profile", "new", "--from", str(file))
    assert not (home / "profiles").exists()


def test_check_names_line_and_remedy(capsys: pytest.CaptureFixture[str], library: Library, tmp_path: Path) -> None:
    text = library.files["profile", "copper-wren-solo"].read_text(encoding="utf-8")
    file = tmp_path / "given.yaml"
    wrong = "high_pressure_switch: {opens_kpa: 4200, closes_kpa: 3200}"
    file.write_text(text.replace(wrong, "high_pressure_switch: {opens_kpa: 3200, closes_kpa: 4200}"), encoding="utf-8")
    line = text[: text.index(wrong)].count("\n") + 1
    assert run("profile", "check", str(file)) == 2
    assert f"given.yaml, line {line}: high_pressure_switch: it must open above" in capsys.readouterr().out
    assert run("profile", "check", "lantern-hill-trio") == 0
    assert capsys.readouterr().out == "The profile is sound.\n"
    assert run("profile", "check", "--json") == 0
    assert json.loads(capsys.readouterr().out) == []


def test_show(capsys: pytest.CaptureFixture[str], library: Library) -> None:
    assert run("profile", "show") == 0
    assert "lantern-hill-trio" in capsys.readouterr().out
    assert run("profile", "show", "--json") == 0
    assert {row["id"] for row in json.loads(capsys.readouterr().out)} == set(library.profiles)
    assert run("profile", "show", "copper-wren-solo") == 0
    assert "Copper Wren" in capsys.readouterr().out
    with pytest.raises(DataFolderError, match="There is no profile and no file called nothing"):
        run("profile", "show", "nothing")


def test_a_picture_of_the_plate_is_kept_found_and_removed(
    capsys: pytest.CaptureFixture[str], home: Path, tmp_path: Path
) -> None:
    photo = tmp_path / "photo.png"
    Image.new("RGB", (3000, 2000), (9, 90, 200)).save(photo)
    assert run("profile", "picture", "copper-wren-solo") == 2
    assert run("profile", "picture", "copper-wren-solo", str(photo)) == 0
    kept = plate_picture("copper-wren-solo")
    assert max(Image.open(kept).size) == 1600
    assert kept.stat().st_mode & 0o077 == 0
    capsys.readouterr()
    assert run("profile", "show") == 0
    assert "Copper Wren Solo, 1 zone, R32, invented for the demonstration, with a picture" in capsys.readouterr().out
    assert run("profile", "picture", "copper-wren-solo", "--remove") == 0
    assert not kept.exists()


def test_what_is_no_picture_is_not_kept_for_a_plate(home: Path, tmp_path: Path) -> None:
    (tmp_path / "words.jpg").write_text("no picture")
    with pytest.raises(ImageError, match="cannot be read as a picture"):
        run("profile", "picture", "copper-wren-solo", str(tmp_path / "words.jpg"))
    assert not plate_picture("copper-wren-solo").exists()
