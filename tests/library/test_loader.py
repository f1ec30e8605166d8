"""The loader: what is read, what wins, and what is refused in one sentence."""

from __future__ import annotations

import dataclasses
from pathlib import Path

import pytest

from assistant.commands.main import main
from assistant.data import places
from assistant.data.errors import DataFolderError, LibraryError
from assistant.library.loader import Library, load
from assistant.library.profile import features_of
from tests.library.conftest import spoil


def test_a_small_folder_loads(small: Path, tmp_path: Path) -> None:
    library = load(small, tmp_path)
    assert set(library.checks) == {"bulb-look", "fuse-ohms"}
    assert library.files["check", "fuse-ohms"] == small / "faults" / "sample.yaml"
    assert library.system_of["bulb-dead"] == "sample"
    assert library.source_text("practice") == "common practice, no source"


def test_the_library_is_frozen(library: Library) -> None:
    with pytest.raises(dataclasses.FrozenInstanceError):
        library.checks = {}  # type: ignore[misc]


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        ("    minutes: 2", "    minuets: 2", "checks › 2 › .*; (add it|remove it)"),
        ("energy: any", "energy: asleep", "checks › 1 › energy: input should be.*; use one of the values named"),
        ("weight: 2", "weight: heavy", "suspects › 1 › weight"),
        ("id: fuse-ohms", "id: Fuse Ohms", "use small letters, digits and single hyphens"),
        ("title: Measure the fuse", "title: 12", "put it in quotes"),
        ("id: fuse-ohms", "id: bulb-look", "the check “bulb-look” is also in sample.yaml; rename one"),
    ],
)
def test_what_is_wrong_names_file_line_and_remedy(small: Path, tmp_path: Path, old: str, new: str, what: str) -> None:
    line = spoil(small, old, new)
    with pytest.raises(LibraryError, match=what) as caught:
        load(small, tmp_path)
    assert caught.value.file.name == "sample.yaml"
    if "minuets" not in new and "bulb-look" not in new:
        assert caught.value.line == line
    assert "Traceback" not in str(caught.value)


def test_an_empty_file_is_refused(small: Path, tmp_path: Path) -> None:
    (small / "faults" / "empty.yaml").write_text("", encoding="utf-8")
    with pytest.raises(LibraryError, match=r"empty\.yaml, line 1: the file is empty"):
        load(small, tmp_path)


def _more(small: Path, text: str) -> None:
    (small / "faults" / "more.yaml").write_text(f"system: more\nabout: added\n{text}", encoding="utf-8")


def test_one_file_adds_its_suspects_to_anothers_check_and_symptom(small: Path, tmp_path: Path) -> None:
    _more(small, "also_tells:\n  bulb-look:\n    switch-dead: {yes: 0.9, no: 0.1}\n"
                 "also_shown_by:\n  dark: {switch-dead: 0.8}\n")  # fmt: skip
    library = load(small, tmp_path)
    assert library.checks["bulb-look"].tells["switch-dead"] == {"yes": 0.9, "no": 0.1}
    assert library.symptoms["dark"].shown_by["switch-dead"] == 0.8


@pytest.mark.parametrize(
    ("text", "what", "line"),
    [
        ("also_tells:\n  no-such: {bulb-dead: {yes: 1}}\n", "there is no “no-such” to add to", 4),
        ("also_tells:\n  bulb-look:\n    bulb-dead: {yes: 0.5, no: 0.5}\n", "are given twice", 5),
        ("also_shown_by:\n  dark: {bulb-dead: 0.5}\n", "are given twice", 4),
    ],
)
def test_additions_that_clash_are_refused(small: Path, tmp_path: Path, text: str, what: str, line: int) -> None:
    _more(small, text)
    with pytest.raises(LibraryError, match=what) as caught:
        load(small, tmp_path)
    assert caught.value.file.name == "more.yaml"
    assert caught.value.line == line


def test_ones_own_profile_wins(library: Library, tmp_path: Path) -> None:
    shipped = library.files["profile", "copper-wren-solo"]
    own = tmp_path / "profiles" / "mine.yaml"
    own.parent.mkdir()
    own.write_text(shipped.read_text(encoding="utf-8").replace("charge_kg: 0.95", "charge_kg: 1.1"), encoding="utf-8")
    loaded = load(user=tmp_path)
    assert loaded.profiles["copper-wren-solo"].refrigerant.charge_kg == 1.1
    assert loaded.files["profile", "copper-wren-solo"] == own
    assert set(loaded.profiles) == set(library.profiles)


def _own(library: Library, folder: Path, name: str, old: str = "", new: str = "") -> Path:
    text = library.files["profile", "copper-wren-solo"].read_text(encoding="utf-8")
    assert old in text
    file = folder / "profiles" / name
    file.parent.mkdir(exist_ok=True)
    file.write_text(text.replace(old, new, 1) if old else text, encoding="utf-8")
    return file


def test_of_two_of_ones_own_with_one_id_the_one_named_after_it_counts(library: Library, tmp_path: Path) -> None:
    for name in ("a.yaml", "copper-wren-solo (copy).yaml", "copper-wren-solo.yaml"):
        _own(library, tmp_path, name)
    loaded = load(user=tmp_path)
    assert loaded.files["profile", "copper-wren-solo"].name == "copper-wren-solo.yaml"
    assert [error.file.name for error in loaded.set_aside] == ["a.yaml", "copper-wren-solo (copy).yaml"]
    assert "is also in copper-wren-solo.yaml" in str(loaded.set_aside[0])


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        ("dead_below_v: 30", "dead_below_v: 300", "less than or equal to 30"),
        ("dead_below_v: 30", "dead_below_v: -1", "greater than or equal to 5"),
        ("dead_below_v: 30", "dead_below_v: nan", "finite"),
        ("dead_below_v: 30", "dead_below_v: 1e999", "finite"),
        ("bleed_ohm: 82000", "bleed_ohm: 0", "greater than or equal"),
        ("opens_kpa: 4200", "opens_kpa: 420", "must open above"),
        ("symptom: inverter-trip", "symptom: inverter-trap", "did you mean “inverter-trip”"),
        ("charge_kg: 0.95", "charge_kg: " + "9" * 5000, "charge_kg"),
        ("make: Copper Wren", "make: &a [*a, *a]", "nested more than"),
        ("make: Copper Wren", "make: " + "[" * 400 + "]" * 400, "nested more than"),
        ("make: Copper Wren", "make: " + "[" * 5000, "this is not YAML"),
        ("make: Copper Wren", "? [a, b]\n: c", "a name here is a list"),
        ("make: Copper Wren", "make: \0", "this is not YAML"),
        ("invented: true", "general: true", "general values are not those of a unit"),
    ],
)
def test_a_broken_profile_of_ones_own_is_set_aside(
    library: Library, tmp_path: Path, old: str, new: str, what: str
) -> None:
    _own(library, tmp_path, "mine.yaml", old, new)
    loaded = load(user=tmp_path)
    [error] = loaded.set_aside
    assert what in str(error)
    assert str(error).startswith("mine.yaml")
    assert loaded.profiles == library.profiles  # the shipped one stands in


def test_a_profile_of_aliases_that_stand_for_aliases_is_set_aside(library: Library, tmp_path: Path) -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, 12)]
    (tmp_path / "profiles").mkdir()
    (tmp_path / "profiles" / "bomb.yaml").write_text("\n".join(lines), encoding="utf-8")
    [error] = load(user=tmp_path).set_aside
    assert "more values than can be read" in str(error)


def test_what_is_no_text_or_cannot_be_read_is_set_aside(library: Library, tmp_path: Path) -> None:
    folder = tmp_path / "profiles"
    folder.mkdir()
    (folder / "latin.yaml").write_bytes("make: Kühl".encode("latin-1"))
    (folder / "large.yaml").write_bytes(b"#" * 2_000_001)
    (folder / "gone.yaml").symlink_to(folder / "nothing")
    (folder / "empty.yaml").touch()
    (folder / "folder.yaml").mkdir()
    told = [str(error) for error in load(user=tmp_path).set_aside]
    assert [text.split(":")[0].split(",")[0] for text in told] == ["empty.yaml", "large.yaml", "latin.yaml"]
    assert "larger than 2 MB" in told[1]
    assert "save it again as UTF-8" in told[2]


def test_general_values_exist_for_every_supply(library: Library) -> None:
    for system in ("single-phase-230", "split-phase-240", "wye-208", "three-phase-400", "single-phase-115"):
        profile = library.general(system)
        assert profile.general
        assert profile.supply.system == system
        assert profile.id not in library.profiles


def test_an_unknown_refrigerant_counts_as_flammable(library: Library) -> None:
    assert "flammable" in features_of(library.general("single-phase-230"))
    assert "flammable" not in features_of(library.general("single-phase-230", "R410A"))
    assert "flammable" in features_of(library.general("single-phase-230", "R32"))
    assert library.general("wye-208", "R22").refrigerant.name == "R22"


def test_features_follow_from_the_data(library: Library) -> None:
    solo = features_of(library.profiles["copper-wren-solo"])
    trio = features_of(library.profiles["lantern-hill-trio"])
    assert {"single-zone", "sensor-pipe", "bus-data", "charge-known", "neutral", "flammable"} <= solo
    assert {"multi-zone", "sensor-suction", "several-legs", "glide", "low-pressure-switch"} <= trio
    assert not {"multi-zone", "sensor-suction", "glide"} & solo
    assert not {"neutral", "auto-mode", "three-phase"} & trio


def test_the_users_folder(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("LADDERSIDE_HOME", str(tmp_path / "own"))
    assert places.user_folder() == tmp_path / "own"
    monkeypatch.delenv("LADDERSIDE_HOME")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "xdg"))
    assert places.user_folder() == tmp_path / "xdg" / "ladderside"


def test_a_wheels_data_comes_before_the_checkouts(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    package = tmp_path / "site-packages" / "assistant"
    (package / "_data" / "knowledge").mkdir(parents=True)
    monkeypatch.setattr(places, "PACKAGE", package)
    assert places.data_folder("knowledge") == package / "_data" / "knowledge"
    (tmp_path / "site-packages" / "grammars").mkdir()
    assert places.data_folder("grammars") == tmp_path / "site-packages" / "grammars"
    with pytest.raises(DataFolderError, match=r"“ornaments” is missing.*install Ladderside again"):
        places.data_folder("ornaments")


def test_a_data_folder_that_cannot_be_entered_is_told_and_stops_nothing(tmp_path, monkeypatch, capsys):
    stat = Path.stat

    def barred(path, **how):
        if tmp_path in path.parents:
            raise PermissionError(13, "Permission denied", str(path))
        return stat(path, **how)

    monkeypatch.setattr(Path, "stat", barred)
    library = load(user=tmp_path / "home")
    (told,) = library.set_aside
    assert "it cannot be read (Permission denied)" in str(told)
    assert library.profiles
    monkeypatch.setenv("LADDERSIDE_HOME", str(tmp_path / "home"))
    assert main(["profile", "show"]) == 0
    assert "copper-wren-solo" in capsys.readouterr().out
