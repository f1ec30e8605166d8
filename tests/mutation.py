"""What the tests of the calculations are worth: mistakes are put in, and each must make a test fail.

``python -m tests.mutation`` draws 200 mistakes out of all that ``tests.mutants`` can make in ``assistant/calculations``
(``--sample 40 --seed 3`` fewer or others, ``--all`` every one, ``--in tightness`` those of some modules) and prints the
survivors and the share that was killed. Written here because the kept tools change functions alone: most limits stand
in constants of a module, which no import may have read before the mistake is in.

First run: every test is run once to learn which functions it calls, so that a mistake meets only tests that can see it.
"""

from __future__ import annotations

import argparse
import gc
import hashlib
import importlib
import importlib.abc
import importlib.util
import inspect
import json
import os
import random
import re
import sys
import time
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from pathlib import Path
from types import CodeType, FrameType, FunctionType, ModuleType
from typing import Any

import pytest

from tests.mutants import Mutant, mutants
from tests.weak_spots import SPOTS

CODE, TESTS, BESIDE = Path("assistant/calculations"), Path("tests/calculations"), Path("tests/quantities")
#: Make tables from a library, once; no calculation calls them.
LEFT_OUT = {"make_saturation_tables.py", "make_enthalpy_tables.py"}
#: The tests that see most mistakes.
PINS = f"{TESTS}/test_pins.py"
#: Runs the others' collection, and asks no sum.
ABOUT_TESTS = {TESTS / "test_calculation_table.py", TESTS / "test_mutation.py"}
#: Which functions each test calls, kept between runs.
KNOWN = Path("build/mutation.json")
#: Loaded before a mistake is put in, for they take longer to load than most tests to run.
HEAVY = ("numpy", "scipy.optimize", "scipy.constants", "scipy.stats", "CoolProp.CoolProp", "hypothesis", "pint",
         "psychrolib", "pydantic", "globalwarmingpotentials")  # fmt: skip
#: A mistake meets at most so many seconds of tests (see ``meeting``), and is stopped after ten times that.
MOST_S = 15.0
#: Examples that hypothesis tries against each mistake.
EXAMPLES = 10


#: Names of code that a comprehension or a generator has of its own, and which runs where it stands.
COMPREHENDED = frozenset({"<genexpr>", "<listcomp>", "<setcomp>", "<dictcomp>"})


class Watch:
    """A plugin of pytest: which functions of the calculations each test calls."""

    def __init__(self) -> None:
        self.calls: dict[str, tuple[float, list[str]]] = {}

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        seen: set[Any] = set()
        folder = str(CODE.resolve())

        def note(frame: FrameType, event: str, argument: object) -> None:
            seen.add(frame.f_code)

        start = time.process_time()
        sys.settrace(note)  # of calls alone: far quicker than a profile
        try:
            return (yield)
        finally:
            sys.settrace(None)
            took = time.process_time() - start
            mine = (code for code in seen if code.co_filename.startswith(folder))
            called = {f"{os.path.relpath(code.co_filename)}:{code.co_qualname.split('.')[0]}" for code in mine}
            self.calls[item.nodeid] = took, sorted(called)


class Chosen:
    """A plugin of pytest: only these tests, in this order."""

    def __init__(self, tests: Sequence[str]) -> None:
        self.place = {test: at for at, test in enumerate(tests)}

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        items[:] = sorted(
            (item for item in items if item.nodeid in self.place), key=lambda item: self.place[item.nodeid]
        )


def _nested(code: CodeType) -> list[CodeType]:
    return [part for part in code.co_consts if isinstance(part, CodeType)]


def _body(code: CodeType) -> tuple[object, ...]:
    return code.co_code, code.co_names, tuple(repr(c) for c in code.co_consts if not isinstance(c, CodeType))


def _differ(right: CodeType, wrong: CodeType) -> bool:
    """Whether two codes differ, or what stands in them: a comprehension in a function is code of its own."""
    parts = zip(_nested(right), _nested(wrong), strict=True)
    return _body(right) != _body(wrong) or any(_differ(old, new) for old, new in parts)


def swapped(mutant: Mutant) -> dict[CodeType, CodeType] | None:
    """New code by the old of the functions that the mistake changes; None where it is in what runs at the import."""
    file = str(mutant.path.resolve())
    right = compile(mutant.path.read_text(encoding="utf-8"), file, "exec")
    changed: dict[CodeType, CodeType] = {}
    return changed if _changes(right, compile(mutant.source, file, "exec"), changed) else None


def _changes(right: CodeType, wrong: CodeType, changed: dict[CodeType, CodeType], at_import: bool = True) -> bool:
    """Note the functions that differ; false where what differs runs once, when the module is imported."""
    if at_import and _body(right) != _body(wrong):
        return False
    for old, new in zip(_nested(right), _nested(wrong), strict=True):
        if not _differ(old, new):
            continue
        runs = at_import and (old.co_name in COMPREHENDED or not old.co_flags & inspect.CO_OPTIMIZED)  # or a class
        if not runs:
            changed[old] = new
        if not _changes(old, new, changed, runs):
            return False
    return True


def put_in(changed: Mapping[CodeType, CodeType], path: Path) -> None:
    """Give the functions of the module their new code, wherever they are kept, and forget what they have cached."""
    file, cached = str(path.resolve()), type(lru_cache(_body))
    for thing in gc.get_objects():
        if isinstance(thing, FunctionType) and thing.__code__.co_filename == file:
            new = changed.get(thing.__code__)
            if new is not None:
                thing.__code__ = new
        elif isinstance(thing, cached):
            thing.cache_clear()


class Host:
    """A plugin of pytest: instead of running the tests once, each mistake is met by those that can see it.

    Everything is imported and collected once; each mistake is put into a fork of that.
    """

    def __init__(self, met: Sequence[tuple[Mutant, Sequence[str]]], out: Path) -> None:
        self.met, self.out, self.failed = met, out, False

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        self.failed = self.failed or report.failed

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        items = {item.nodeid: item for item in session.items}
        for mutant, tests in self.met:
            changed = swapped(mutant)
            assert changed is not None
            mine = [items[test] for test in tests if test in items]

            def work(mutant: Mutant = mutant, changed: Any = changed, mine: Any = mine) -> int:
                put_in(changed, mutant.path)
                for item in mine:
                    item.config.hook.pytest_runtest_protocol(item=item, nextitem=None)
                    if self.failed:
                        return 1
                return 0

            dead = _forked(work, 60 + 10 * MOST_S) != 0
            with self.out.open("a") as out:
                out.write(f"{int(dead)}\n")
        return True


class Mistaken(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Imports one module with the mistake in it."""

    def __init__(self, mutant: Mutant) -> None:
        self.mutant = mutant
        self.file = str(mutant.path.resolve())

    def find_spec(self, name: str, path: object = None, target: ModuleType | None = None) -> Any:
        return importlib.util.spec_from_loader(name, self) if name == self.mutant.name else None

    def exec_module(self, module: ModuleType) -> None:
        module.__file__ = self.file
        exec(compile(self.mutant.source, self.file, "exec"), module.__dict__)


def _pytest(tests: Iterable[str], *plugins: object) -> int:
    from hypothesis import settings

    # The calculations' own profile is loaded by their conftest: it takes the default's number of examples.
    settings.register_profile("mutation", max_examples=EXAMPLES, derandomize=True, database=None)
    settings.load_profile("mutation")
    files = dict.fromkeys(test.partition("::")[0] for test in tests)
    quiet = (
        "-qq",
        "-x",
        "--no-header",
        "--tb=no",
        "-p",
        "no:cacheprovider",
        "-p",
        "no:xdist",
        "-W",
        "ignore",
    )
    return int(pytest.main([*quiet, *files], plugins=list(plugins)))


def _forked(work: Any, limit_s: float) -> int | None:
    """The exit status of ``work()`` in a process of its own; None where it was stopped for its time."""
    child = os.fork()
    if child == 0:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, 1)
        os.dup2(nowhere, 2)
        status = 3
        try:
            status = work()
        finally:
            os._exit(status)
    until = time.monotonic() + limit_s
    while time.monotonic() < until:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status)
        time.sleep(0.02)
    os.kill(child, 9)
    os.waitpid(child, 0)
    return None


def _mark(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def covering(say: Any = print) -> dict[str, tuple[float, list[str]]]:
    """Seconds and called functions of every test, measured anew for the files of tests that changed."""
    kept: dict[str, Any] = json.loads(KNOWN.read_text()) if KNOWN.exists() else {}
    for path in sorted({*TESTS.glob("test_*.py"), *BESIDE.glob("test_*.py")} - ABOUT_TESTS):
        if kept.get(str(path), {}).get("mark") == _mark(path):
            continue
        say(f"learning what {path} calls", flush=True)
        part = KNOWN.with_suffix(".part")
        KNOWN.parent.mkdir(exist_ok=True)

        def learn(path: Path = path, part: Path = part) -> int:
            watch = Watch()
            status = _pytest([str(path)], watch)
            part.write_text(json.dumps(watch.calls))
            return status

        if _forked(learn, 1200) != 0:
            raise SystemExit(f"{path} fails without any mistake; mend it first.")
        kept[str(path)] = {"mark": _mark(path), "calls": json.loads(part.read_text())}
        part.unlink()
        KNOWN.write_text(json.dumps(kept))
    return {test: tuple(seen) for file in kept.values() for test, seen in file["calls"].items()}


def meeting(mutant: Mutant, calls: Mapping[str, tuple[float, list[str]]]) -> list[str]:
    """The tests that can see the mistake: the pins of answers first, which see most, then the quick ones."""
    place = f"{mutant.path}:{mutant.within}"
    modules = {f"{mutant.path}:", *(f"{path}:" for path in _importing(mutant.path))}
    own = f"{mutant.path}:"
    found: list[tuple[bool, bool, float, str]] = []
    for test, (took, functions) in calls.items():
        near = any(name.startswith(own) for name in functions)
        if mutant.within != "module" and place in functions:
            found.append((not test.startswith(PINS), False, took, test))
        elif mutant.within == "module" and any(name.startswith(tuple(modules)) for name in functions):
            found.append((not near, not test.startswith(PINS), took, test))
    chosen, spent = [], 0.0
    for *_, took, test in sorted(found):
        spent += took
        if chosen and spent > MOST_S:
            continue
        chosen.append(test)
    return chosen


def _importing(path: Path) -> list[Path]:
    words = re.compile(rf"\b{path.stem}\b")
    return [other for other in CODE.rglob("*.py") if other != path and words.search(other.read_text(encoding="utf-8"))]


def is_killed(mutant: Mutant, tests: Sequence[str]) -> bool:
    """Whether one of the tests fails, or cannot even be read, where the module is imported with the mistake in it."""

    def work() -> int:
        sys.meta_path.insert(0, Mistaken(mutant))
        return _pytest(tests, Chosen(tests))

    return _forked(work, 60 + 10 * MOST_S) != 0


def are_killed(met: Sequence[tuple[Mutant, Sequence[str]]]) -> Iterator[bool]:
    """The same for mistakes inside functions, which need no new import."""
    out = KNOWN.with_suffix(".killed")
    out.unlink(missing_ok=True)
    if _forked(lambda: _pytest(dict.fromkeys(test for _, tests in met for test in tests), Host(met, out)), 36_000) == 3:
        raise SystemExit("The tests cannot be collected.")
    yield from (line == "1" for line in out.read_text().splitlines())


def every(modules: Sequence[str] = ()) -> list[Mutant]:
    """Every mistake, or those in some modules."""
    paths = [path for path in sorted(CODE.rglob("*.py")) if path.name not in LEFT_OUT]
    return [mutant for path in paths if not modules or path.stem in modules for mutant in mutants(path)]


def _aimed() -> int:
    """The mistakes aimed at weak spots, each met by what is pinned of the calculations that it spoils."""
    importlib.import_module("hypothesis")
    left = []
    for spot in SPOTS:
        tests = [f"{TESTS}/test_pins.py::{test}[{name}]" for name in spot.calculations for test in
                 ("test_it_answers_as_it_did", "test_each_verdict_turns_where_it_did")]  # fmt: skip
        if not is_killed(spot.mutant, tests):
            left.append(spot.mutant)
            print(f"survived: {spot.mutant}", flush=True)
    print(f"{len(SPOTS) - len(left)} of {len(SPOTS)} killed")
    return 1 if left else 0


def main(words: Sequence[str] | None = None) -> int:
    options = argparse.ArgumentParser(prog="python -m tests.mutation", description=(__doc__ or "").partition("\n")[0])
    options.add_argument("--sample", type=int, default=200, help="how many mistakes are drawn (default 200)")
    options.add_argument("--seed", type=int, default=1, help="which are drawn")
    options.add_argument("--all", action="store_true", help="every mistake: some hours")
    options.add_argument("--in", dest="modules", nargs="*", default=(), metavar="MODULE", help="only in these modules")
    options.add_argument("--from", dest="start", type=int, default=0, help="go on with this one of the sample")
    options.add_argument("--until", type=int, default=None, help="and stop before this one, to run it in pieces")
    options.add_argument("--aimed", action="store_true", help="the mistakes of tests/weak_spots.py: some seconds")
    told = options.parse_args(words)
    if told.aimed:
        return _aimed()
    for name in HEAVY:
        importlib.import_module(name)
    calls = covering()
    drawn = every(told.modules)
    if not told.all and told.sample < len(drawn):
        drawn = random.Random(told.seed).sample(drawn, told.sample)
    met = [(mutant, meeting(mutant, calls)) for mutant in drawn[told.start : told.until]]
    inside = [(mutant, tests) for mutant, tests in met if tests and swapped(mutant) is not None]
    dead = dict(zip((id(mutant) for mutant, _ in inside), are_killed(inside), strict=True)) if inside else {}
    killed = 0
    for mutant, tests in met:
        if tests and id(mutant) not in dead:
            dead[id(mutant)] = is_killed(mutant, tests)
        killed += dead.get(id(mutant), False)
        if not dead.get(id(mutant)):
            print(f"survived {len(tests)} tests: {mutant}", flush=True)
    print(f"{killed} of {len(met)} killed: {100 * killed / max(1, len(met)):.1f} %")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
