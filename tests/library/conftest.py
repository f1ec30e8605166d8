"""One loaded library for all tests here, and a small folder of knowledge that a test may spoil."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from assistant.data.places import data_folder
from assistant.library.loader import Library, load


@pytest.fixture(scope="session", autouse=True)
def cache_of_its_own(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """These tests load many libraries; none of them may land in the cache of the person who runs them."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("cache")))
        patch.delenv("LADDERSIDE_HOME", raising=False)
        yield


@pytest.fixture(scope="session")
def library(tmp_path_factory: pytest.TempPathFactory) -> Library:
    """The shipped knowledge without any profile of the person who runs the tests."""
    return load(user=tmp_path_factory.mktemp("nobody"))


SMALL = """\
system: sample
about: One lamp.
symptoms:
  - id: dark
    name: it is dark
    phrases: [it is dark]
    shown_by: {bulb-dead: 0.9, fuse-dead: 0.9}
suspects:
  - id: bulb-dead
    component: bulb
    name: the bulb is dead
    phrases: [bulb]
    weight: 2
    confirm: [bulb-look]
    repair: {say: Fit a new bulb., energy: proved-dead, where: indoor, precautions: [ladder], minutes: 5,
             touches: [{what: terminals, at: indoor}]}
    proof: [bulb-look]
  - id: fuse-dead
    component: fuse
    name: the fuse is dead
    weight: 1
    confirm: [fuse-ohms]
    repair: {say: Fit a new fuse., energy: proved-dead, where: indoor, minutes: 5,
             touches: [{what: plug, at: indoor}]}
    proof: [fuse-ohms]
checks:
  - id: bulb-look
    title: Look at the bulb
    phrases: [look at the bulb]
    why: Looking is free.
    energy: any
    where: indoor
    precautions: [ladder]
    touches: [{what: nothing}]
    minutes: 1
    ask:
      - key: wire
        say: Is its wire whole?
        choices:
          - {id: "yes", phrases: ["yes"]}
          - {id: "no", phrases: ["no"]}
    judge: {by: finding, inputs: {choice: wire}}
    outcomes:
      "yes": {verdict: pass, means: whole}
      "no": {verdict: fail, means: broken}
    otherwise: {"yes": 0.95, "no": 0.05}
    tells:
      bulb-dead: {"yes": 0.05, "no": 0.95}
  - id: fuse-ohms
    title: Measure the fuse
    phrases: [measure the fuse]
    why: Ohms do not lie.
    energy: proved-dead
    where: indoor
    minutes: 2
    touches: [{what: terminals, at: indoor}]
    ask:
      - key: resistance
        say: What does it read?
        reading: {quantity: resistance, unit: ohm, plausible: [0, 1000], instrument: ohmmeter, open_line: true}
    judge:
      by: continuity
      inputs: {resistance: resistance}
      limits:
        high: {value: 2, unit: ohm, source: practice}
    outcomes:
      closed: {verdict: pass, means: whole}
      open: {verdict: fail, means: open}
    otherwise: {closed: 0.97, open: 0.03}
    tells:
      fuse-dead: {closed: 0.02, open: 0.98}
"""


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """A folder of knowledge of two suspects and two checks that keeps to every rule."""
    folder = tmp_path / "knowledge"
    (folder / "faults").mkdir(parents=True)
    (folder / "faults" / "sample.yaml").write_text(SMALL, encoding="utf-8")
    (folder / "sources.yaml").write_text("sources:\n  - {id: practice, kind: practice, title: ''}\n", encoding="utf-8")
    precaution = "precautions:\n  - {id: ladder, say: Foot the ladder., source: practice}\n"
    (folder / "precautions.yaml").write_text(precaution, encoding="utf-8")
    instrument = (
        "instruments:\n  - {id: ohmmeter, name: meter, quantity: resistance, unit: ohm, percent_of_reading: 1,\n"
        "     offset: 0.1, range: [0, 1000], source: practice}\n"
    )
    (folder / "instruments.yaml").write_text(instrument, encoding="utf-8")
    hazard = "hazards:\n  - {id: burnt, name: something burnt, say: Leave it off., bars: [power], source: practice}\n"
    (folder / "hazards.yaml").write_text(hazard, encoding="utf-8")
    thing = "things:\n  - {id: cover, name: the cover, say: Put the cover back on.}\n"
    (folder / "taken-off.yaml").write_text(thing, encoding="utf-8")
    (folder / "procedures.yaml").write_text("system: procedures\nabout: none here\n", encoding="utf-8")
    shutil.copytree(data_folder("knowledge") / "profiles" / "general", folder / "profiles" / "general")
    return folder


def spoil(folder: Path, old: str, new: str, file: str = "faults/sample.yaml") -> int:
    """Replace the first ``old`` in a file; the line (from 1) where it stood."""
    path = folder / file
    text = path.read_text(encoding="utf-8")
    assert old in text, f"{old!r} is not in {file}"
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    return text[: text.index(old)].count("\n") + 1
