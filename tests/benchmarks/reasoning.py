"""How fast and how well the reasoning searches: ``python -m tests.benchmarks.reasoning [--visits N]``.

Prints the time of choosing a check with everything loaded and how it grows, then simulated visits (see
``tests/simulation``) searched in three orders, with 0, 2 and 5 % of the answers wrong. The bars of the design: right
suspect first in at least 95 %, a good part condemned in under 1 %, mean time at most 60 % of the textbook order.
About ten minutes on one core for 5,000 visits.
"""

from __future__ import annotations

import argparse
import statistics
import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from random import Random

from assistant.library.loader import Library, load
from assistant.reasoning.reasoner import Reasoner
from tests.simulation.visit import Draw, OrderName, Outcome, Simulation

WRONG = (0.0, 0.02, 0.05)
ORDERS: tuple[OrderName, ...] = ("ours", "textbook", "cheapest")


def median_ms(work: Callable[[], object], times: int = 200) -> float:
    """Median wall time of ``work`` in milliseconds."""
    work()
    spent = []
    for _ in range(times):
        begun = time.perf_counter()
        work()
        spent.append(time.perf_counter() - begun)
    return 1000 * statistics.median(spent)


def tripled(library: Library) -> Library:
    """The library with every suspect and check three times over, under new names: nine times checks x suspects."""
    suspects, checks, systems = dict(library.suspects), dict(library.checks), dict(library.system_of)
    for copy in ("b", "c"):
        for key, suspect in library.suspects.items():
            suspects[f"{key}-{copy}"] = suspect.model_copy(update={"id": f"{key}-{copy}"})
        for key, check in library.checks.items():
            tells = {f"{name}-{copy}": chances for name, chances in check.tells.items()}
            update = {"id": f"{key}-{copy}", "tells": tells, "after": (), "only_if": {}}
            checks[f"{key}-{copy}"] = check.model_copy(update=update)
            systems[f"{key}-{copy}"] = library.system_of[key]
    return replace(library, suspects=suspects, checks=checks, system_of=systems)


def print_speed(library: Library) -> None:
    """Time of one choice and one update, and of a choice over nine times checks x suspects."""
    profile = library.general("split-phase-240")
    for name, held in (("everything loaded", library), ("suspects and checks tripled", tripled(library))):
        begun = time.perf_counter()
        reasoner = Reasoner(held, profile)
        built = 1000 * (time.perf_counter() - begun)
        belief = reasoner.start(["weak-output"])
        check = reasoner.table.check_at["outdoor-unit-look"]
        outcome = reasoner.table.outcomes[check][0]
        choose = median_ms(lambda r=reasoner, b=belief: r.next_check(b))  # type: ignore[misc]
        update = median_ms(lambda r=reasoner, b=belief, o=outcome: r.update(b, "outdoor-unit-look", {o: 1.0}))  # type: ignore[misc]
        size = f"{len(reasoner.table.suspects)} suspects, {len(reasoner.table.checks)} checks"
        print(f"{name} ({size}): choose {choose:.2f} ms, update {update:.2f} ms, built once in {built:.0f} ms")


def summary(outcomes: Sequence[Outcome]) -> str:
    """Shares and means of some visits."""
    count = len(outcomes)
    right = sum(outcome.right for outcome in outcomes) / count
    found = sum(outcome.kind == "found" for outcome in outcomes) / count
    condemned = sum(outcome.condemned for outcome in outcomes) / count
    checks = sum(outcome.checks for outcome in outcomes) / count
    return f"right {right:6.1%}  named {found:6.1%}  condemned {condemned:6.2%}  {checks:5.1f} checks"


def mean_minutes(outcomes: Sequence[Outcome]) -> float:
    """Mean minutes to the answer."""
    return statistics.fmean(outcome.minutes for outcome in outcomes)


def print_visits(simulation: Simulation, draws: Sequence[Draw], few: int) -> None:
    """The three orders on the same draws: ours on all, the two others on the first ``few``."""
    for wrong in WRONG:
        print(f"\n{wrong:.0%} of the answers wrong")
        results = {
            order: [simulation.run(draw, order, seed, wrong) for seed, draw in enumerate(draws[:few])]
            for order in ORDERS
        }
        book = mean_minutes(results["textbook"])
        rest = [simulation.run(draw, "ours", few + seed, wrong) for seed, draw in enumerate(draws[few:])]
        for order, outcomes in results.items():
            minutes = mean_minutes(outcomes)
            share = f"{minutes:6.1f} min = {minutes / book:6.1%} of textbook"
            print(f"  {order:9} {few:5} visits  {summary(outcomes)}  {share}")
        every = [*results["ours"], *rest]
        print(f"  {'ours':9} {len(every):5} visits  {summary(every)}  {mean_minutes(every):6.1f} min", flush=True)


def main() -> None:
    """Parse the arguments and print everything."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--visits", type=int, default=5000, help="visits for our order")
    parser.add_argument("--few", type=int, default=1500, help="visits for the two other orders, on the same draws")
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    library = load()
    print_speed(library)
    simulation = Simulation(library, [*library.profiles.values(), *library.generals.values()])
    rng = Random(args.seed)
    draws = [simulation.draw(rng) for _ in range(args.visits)]
    print_visits(simulation, draws, min(args.few, args.visits))


if __name__ == "__main__":
    main()
