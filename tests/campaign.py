"""The fault campaign: ``python -m tests.campaign [PART ...] [--size N] [--seed N]``.

    kills      kill -9 at random instants of sessions, of the whole program, of replays
    power      power cuts between write and fsync (needs strace)
    disks      disks that are full, read-only, or somebody else's
    clocks     the clock set, the machine asleep or started anew
    writers    several programs on one visit
    devices    microphone and loudspeaker gone and back in the middle of a word, ears that crash and hang
    offline    every command where a socket is an error and there is no network
    spoilt     models, knowledge and the user's own files spoilt under a visit
    fuzz       spoilt input of every kind
    day        a working day in one process

Without a PART all but the day. ``--size 1`` is what the tests run, in seconds; the default of 100 takes an hour or so
on two cores: 500 kills of sessions, 100,000 spoilt inputs. Prints one line for each, and every failure with its seed;
exit status 1 when there is one.
"""

from __future__ import annotations

import argparse
import math
import resource
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.robust.attacks import TARGETS, attack
from tests.robust.campaign import clocks, day, devices, disks, kills, offline, power, spoilt, writers
from tests.robust.campaign.report import Report

#: A process that takes spoilt input may not hold more, MB.
MOST_MB = 500
#: Of 100,000 spoilt inputs: the weight of each kind where most have 1; what takes long for each gets less.
_WEIGHTS = {"own profiles": 0.01, "heard words": 0.25, "typed words": 0.8, "records": 0.5}


def parts(size: int, seed: int, folder: Path) -> dict[str, Callable[[], Iterator[Report]]]:
    """Each part of the campaign, at a size of 1 (seconds) to 100 (the whole)."""

    def of(whole: int) -> int:
        return max(1, whole * size // 100)

    def at(name: str) -> Path:
        (folder / name).mkdir(parents=True, exist_ok=True)
        return folder / name

    def killing() -> Iterator[Report]:
        yield kills.of_sessions(of(400), seed, at("sessions"))
        yield kills.of_programs(of(80), seed, at("programs"))
        if size > 1:
            yield kills.of_replays(of(20), seed, at("replays"))

    def disk_faults() -> Iterator[Report]:
        yield disks.full(of(20), seed, at("full"))
        if size > 1:
            yield disks.read_only(at("read-only"))

    def writing() -> Iterator[Report]:
        yield writers.programs(of(20), seed, at("programs-beside"))
        yield writers.races(of(10), at("races"))

    def fuzzing() -> Iterator[Report]:
        weights = {kind: _WEIGHTS.get(kind, 1.0) for kind in TARGETS}
        for kind, weight in weights.items():
            yield _attacked(kind, max(2, math.ceil(of(100_000) * weight / sum(weights.values()))), seed)

    return {
        "kills": killing,
        "power": lambda: iter([power.cuts(of(1500), seed, at("power"))]),
        "disks": disk_faults,
        "clocks": lambda: iter([clocks.jumps(of(300), seed, at("clocks"))]),
        "writers": writing,
        "devices": lambda: iter([devices.gone_and_back(of(500), seed, at("devices"))]),
        "offline": lambda: iter([offline.every_command(at("offline"))]),
        "spoilt": lambda: iter([spoilt.under_a_visit(of(300), seed, at("spoilt"))]),
        "fuzz": fuzzing,
        "day": lambda: iter([day.work(12 if size > 1 else 1, 8 * size / 100, at("day"))]),
    }


def _attacked(kind: str, count: int, seed: int) -> Report:
    outcome = attack(kind, range(seed * 1_000_000, seed * 1_000_000 + count))
    report = Report(f"spoilt {kind}", tried=outcome.tried, kept=outcome.tried - len(outcome.finds))
    memory_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    report.note = f"refused {outcome.refused}, slowest {outcome.slowest_s:.2f} s, {memory_mb:.0f} MB so far"
    report.hold(memory_mb < MOST_MB, f"{memory_mb:.0f} MB")
    report.failures += [f"{find.kind}, seed {find.seed}: {find.what}: {find.shown}" for find in outcome.finds]
    return report


def main(words: list[str] | None = None) -> int:
    """Run the parts that are named."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("part", nargs="*", metavar="PART")
    parser.add_argument("--size", type=int, default=100, help="percent of the whole campaign (default: 100)")
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args(words)
    failed = 0
    with TemporaryDirectory(prefix="ladderside-campaign-") as folder:
        there = parts(options.size, options.seed, Path(folder))
        unknown = set(options.part) - set(there)
        if unknown:
            parser.error(f"there is no part {', '.join(sorted(unknown))}; parts are {', '.join(there)}")
        for name in options.part or [name for name in there if name != "day"]:
            began = time.perf_counter()
            for report in there[name]():
                print(f"{report.line()}  ({time.perf_counter() - began:.0f} s)", flush=True)
                for failure in report.failures[:20]:
                    print(f"    {failure}", flush=True)
                failed += len(report.failures)
                began = time.perf_counter()
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
