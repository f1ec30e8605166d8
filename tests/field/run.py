"""``python -m tests.field.run --visits 200 --seed 0``: whole visits on drawn sites, and what came of them.

``--fault ID`` keeps to one fault, ``--each N`` makes N visits of every fault, ``--show SEED`` prints one visit word by
word. ``--no-profile SHARE``: share of visits without a profile of the unit. ``--misreads``, ``--dont-know`` and
``--cant-reach`` set the technician. The same seed gives the same visits.
"""

from __future__ import annotations

import argparse
import sys
import time

from assistant.library.loader import load
from assistant.visit.session import Knowledgeable
from tests.field.driver import Visit, knowing
from tests.field.faults import BY_ID, FAULTS, Fault
from tests.field.machine.units import BUILD
from tests.field.outcome import Outcome
from tests.field.people.technician import Habits
from tests.field.profiles import profile_of
from tests.field.report import in_all, leftovers, per_fault, why_not
from tests.field.world.site import NoSuchSite, draw
from tests.field.world.world import World


def program() -> Knowledgeable:
    """The program as it ships, with the simulator's units among its profiles."""
    profiles = {profile.id: profile for profile in (profile_of(build()) for build in BUILD.values())}
    return knowing(load(), profiles)


def visit(context: Knowledgeable, seed: int, fault: Fault | None, no_profile: float, habits: Habits) -> Outcome | None:
    """One visit; None when no site with a complaint was found."""
    try:
        world = World(draw(seed, fault))
    except NoSuchSite:
        return None
    known = (seed * 7919 % 100) / 100 >= no_profile
    return Visit(context, world, seed, with_profile=known, habits=habits).run()


def _arguments(argv: list[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.field.run", description=(__doc__ or "").split("\n")[0])
    parser.add_argument("--visits", type=int, default=50)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--fault", choices=sorted(BY_ID), metavar="ID", help="keep to one fault")
    parser.add_argument("--each", type=int, default=0, help="so many visits of every fault")
    parser.add_argument("--show", action="store_true", help="print every visit word by word")
    parser.add_argument("--no-profile", type=float, default=0.2, help="share of visits without a profile")
    habits = Habits()
    parser.add_argument("--misreads", type=float, default=habits.misreads)
    parser.add_argument("--dont-know", type=float, default=habits.dont_know)
    parser.add_argument("--cant-reach", type=float, default=habits.cant_reach)
    parser.add_argument("--list", action="store_true", help="list the faults and their physics")
    return parser.parse_args(argv)


def main(argv: list[str]) -> int:
    told = _arguments(argv)
    if told.list:
        for fault in FAULTS:
            print(f"{fault.id:30} {fault.says}\n{'':30} {fault.physics}")
        return 0
    habits = Habits(told.dont_know, told.cant_reach, told.misreads)
    wanted: list[Fault | None] = [BY_ID[told.fault] if told.fault else None] * told.visits
    if told.each:
        wanted = [fault for fault in FAULTS if not fault.hidden for _ in range(told.each)]
    context, outcomes, start = program(), [], time.monotonic()
    for at, one in enumerate(wanted):
        outcome = visit(context, told.seed + at, one, told.no_profile, habits)
        if outcome is None:
            continue
        outcomes.append(outcome)
        if told.show:
            print(f"\n--- {outcome.seed} {outcome.unit} {', '.join(outcome.faults)}: {outcome.complaint}")
            print("\n".join(outcome.turns))
    if not outcomes:
        print("No site with a complaint was found; try other seeds.")
        return 1
    print("\n".join(per_fault(outcomes)))
    print("\n" + "\n".join(in_all(outcomes)))
    print("\n" + "\n".join(why_not(outcomes)))
    print("\n".join(leftovers(outcomes)))
    print(f"{(time.monotonic() - start) / len(outcomes):.2f} s a visit")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
