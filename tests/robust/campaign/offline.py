"""Every command in a process that the kernel ends at its first socket, in a network namespace without a route.

The one socket that a command may ask for is the sound server's of this machine, and only where it makes or takes sound.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

from assistant import offline
from assistant.commands.main import COMMANDS
from tests.robust.campaign.report import Report

ROOT = Path(__file__).parents[3]
CLIPS = ROOT / "recordings_synthetic" / "crossed-terminals" / "clips"
_VISIT = "mill lane\ncopper wren solo\nleaf lamp blinks slowly\nfinish\nyes\nno note\nno note\n"
_WORDS = "sentence\tstate\tmeaning\tkind\nwait\tany\tcommand wait\tcommand\n"
_TRANSCRIPT = "file,speaker,kind,text\none.flac,ada,number,mill lane\n"


def every_command(folder: Path) -> Report:
    """Each command once or more; what of the network one asked for ends it with a signal."""
    report = Report("no socket, no route")
    if sys.platform != "linux":
        report.note = "not tried: only Linux can forbid sockets"
        return report
    apart = _apart()
    report.note = "in a namespace without a route" if apart else "no namespace can be made here"
    home = folder / "home"
    _material(folder)
    tried = set()
    for words, given in _commands(folder, _number(home)):
        sound = ["--sound-server"] if words[0] in ("ears", "visit", "replay") else []
        done = subprocess.run(
            [*apart, sys.executable, "-m", "tests.robust.sealed", *sound, *words],
            input=given,
            capture_output=True,
            text=True,
            cwd=ROOT,
            env=_environment(folder, home),
            timeout=300,
        )
        tried.add(words[0].replace("-", "_"))
        report.tried += 1
        report.kept += done.returncode in (0, 2)
        told = f"{' '.join(words)}: exit {done.returncode}: {done.stderr[-300:]}"
        report.hold(done.returncode in (0, 2) and "Traceback" not in done.stderr, told)
    report.hold(tried == set(COMMANDS), f"not tried: {sorted(set(COMMANDS) - tried)}")
    left = [file for file in (folder / "user").rglob("*") if file.is_file() and "pulse" not in str(file)]
    report.hold(not left, f"left behind in the user's home: {left}")
    return report


def _apart() -> list[str]:
    """The words before a command that take every network away from it; none where that cannot be had."""
    words = ["unshare", "-n"]
    able = shutil.which("unshare") and not subprocess.run([*words, "true"], capture_output=True).returncode
    return words if able else []


def _environment(folder: Path, home: Path) -> dict[str, str]:
    """As a user has it. With CI set the runtime of the models keeps quiet by itself, and nothing would be shown."""
    kept = {name: value for name, value in os.environ.items() if name not in (*offline.SILENT, "CI")}
    return {**kept, "HOME": str(folder / "user"), "LADDERSIDE_HOME": str(home), "XDG_CACHE_HOME": ""}


def _material(folder: Path) -> None:
    from PIL import Image

    (folder / "user").mkdir(parents=True, exist_ok=True)
    Image.new("RGB", (60, 40)).save(folder / "photo.jpg")
    (folder / "words.tsv").write_text(_WORDS, encoding="utf-8")
    heard = folder / "set"
    heard.mkdir(exist_ok=True)
    shutil.copyfile(CLIPS / "01-visit-site-1.flac", heard / "one.flac")
    (heard / "transcripts.csv").write_text(_TRANSCRIPT, encoding="utf-8")


def _number(home: Path) -> Callable[[], str]:
    """The number of the visit that the first command made."""
    return lambda: next((home / "records").iterdir()).name


def _commands(folder: Path, number: Callable[[], str]) -> Iterator[tuple[list[str], str]]:
    """Words of a command, and what is typed into it."""
    yield ["type", "--hurry"], _VISIT
    visit = number()
    yield ["type", "--resume"], "where am I\n"
    yield ["visits"], ""
    for form in ("html", "json", "csv", "pdf", "facts"):
        yield ["record", "--format", form, visit], ""
    yield ["amend", "--who", "Ada", "--why", "misheard", visit, "site", "mill lane two"], ""
    yield ["sign", "--name", "Ada", "--as", "technician", visit], ""
    yield ["photo", visit, str(folder / "photo.jpg")], ""
    yield ["export", "--to", str(folder / "office")], ""
    yield ["export", "--database", f"sqlite:///{folder / 'office.sqlite'}"], ""
    yield ["insights", str(folder / "office")], ""
    yield ["backup", str(folder / "copy.sqlite")], ""
    yield ["backup", "--restore", str(folder / "copy.sqlite")], ""
    yield ["audio"], ""
    yield ["calculate", "capacitor-value"], ""
    yield ["profile", "show", "copper-wren-solo"], ""
    yield ["profile", "new"], ""
    yield ["words"], ""
    yield ["library"], ""
    yield ["measure-words", str(folder / "words.tsv")], ""
    yield ["measure-hearing", str(folder / "set")], ""
    yield ["ears"], ""
    yield ["ears", "--try"], ""
    yield ["visit"], ""
    yield ["replay", str(CLIPS / "01-visit-site-1.flac")], ""
