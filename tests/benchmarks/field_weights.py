"""Whether weights learnt from repairs help: ``python -m tests.benchmarks.field_weights [VISITS]`` (default 300).

A simulated fleet has its faults in other shares than the library: they are drawn from a Dirichlet distribution about
the library's weights. From its proved repairs (400 in a first year) weights are learnt as ``insights --learn``
learns them; then visits of the next year are led with the weights before and after, the same faults, units and noise.
Prints minutes to the answer and wrong parts of both; asserts nothing.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from random import Random
from statistics import fmean

from assistant.library.loader import Library, load
from assistant.office.learning import learn
from tests.simulation.catalogue import FAULTS
from tests.simulation.visit import Simulation

REPAIRS, LOOSENESS = 400, 25.0


def reweighed(library: Library, weights: dict[str, float], learnt: bool = False) -> Library:
    """The library with other starting weights; ``learnt``: as a reviewed file of them makes it."""
    suspects = {
        name: suspect.model_copy(
            update={"weight": weights.get(name, suspect.weight), "library_weight": suspect.weight if learnt else None}
        )
        for name, suspect in library.suspects.items()
    }
    return replace(library, suspects=suspects)


def fleet(library: Library, rng: Random) -> dict[str, float]:
    """True weights of a fleet that differs from the library's."""
    names = [name for name in library.suspects if name in FAULTS]
    whole = sum(library.suspects[name].weight for name in names)
    return {
        name: max(1e-6, rng.gammavariate(LOOSENESS * library.suspects[name].weight / whole, 1)) * whole / LOOSENESS
        for name in names
    }


def compare(visits: int, seed: int = 3) -> dict[str, dict[str, float]]:
    """Mean minutes, share right, share of good parts condemned; by "before" and "after"."""
    rng = Random(seed)
    library = load()
    true = fleet(library, rng)
    profiles = [*library.profiles.values(), *library.generals.values()]
    year = Simulation(reweighed(library, true), profiles)
    repaired = [year.draw(rng).fault for _ in range(REPAIRS)]
    learnt = learn(
        {name: suspect.weight for name, suspect in library.suspects.items()},
        {name: repaired.count(name) for name in set(repaired)},
    )
    whole = sum(suspect.weight for suspect in library.suspects.values())
    after = reweighed(library, {weight.suspect: weight.after * whole for weight in learnt.weights}, learnt=True)
    draws = [year.draw(rng) for _ in range(visits)]
    found = {}
    for name, used in (("before", library), ("after", after)):
        simulation = Simulation(used, profiles)
        outcomes = [simulation.run(draw, "ours", number, 0.0) for number, draw in enumerate(draws)]
        found[name] = {
            "minutes": fmean(outcome.minutes for outcome in outcomes),
            "right": fmean(outcome.right for outcome in outcomes),
            "condemned": fmean(outcome.condemned for outcome in outcomes),
        }
    return found


if __name__ == "__main__":
    for which, figures in compare(int(sys.argv[1]) if len(sys.argv) > 1 else 300).items():
        print(f"{which:<7}", ", ".join(f"{name} {value:.3f}" for name, value in figures.items()))
