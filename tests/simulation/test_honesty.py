"""The simulated unit stands on its own: it knows every suspect, check and symptom, and never reads their chances."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from itertools import islice
from pathlib import Path
from random import Random

import pytest

from assistant.library.loader import Library, load
from assistant.library.models import AFTER_ANY_REPAIR, PROCEDURES, VISIT_STEPS
from assistant.messages.catalogue import catalogue
from assistant.reasoning.judges import judge
from tests.simulation.catalogue import ANSWERS, FAULTS, INDICATIONS, SYMPTOMS, broken_unit, shown
from tests.simulation.technician import Technician
from tests.simulation.unit import sound_unit

HERE = Path(__file__).parent
#: What holds the likelihoods in the knowledge and in the reasoning.
TABLES = {"tells", "otherwise", "shown_by", "also_tells", "also_shown_by", "given", "unnamed_seen", "told_seen"}
PHYSICS = [*sorted((HERE / "systems").glob("*.py")), *(HERE / f"{name}.py" for name in ("unit", "cycle", "bench"))]


@pytest.fixture(scope="module")
def library() -> Library:
    return load()


@pytest.mark.parametrize("file", [*PHYSICS, HERE / "catalogue.py", HERE / "technician.py"], ids=lambda file: file.name)
def test_the_physics_reads_no_likelihood(file: Path) -> None:
    tree = ast.parse(file.read_text(encoding="utf-8"))
    read = {node.attr for node in ast.walk(tree) if isinstance(node, ast.Attribute)}
    keys = {node.value for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, str)}
    assert not (read | keys) & TABLES
    imported = {node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    assert not [name for name in imported if name.endswith(("likelihoods", "belief", "reasoner", "choice"))]


def test_every_suspect_check_and_symptom_has_its_physics(library: Library) -> None:
    assert set(FAULTS) == set(library.suspects)
    # What only a course asks (a commissioning, a maintenance) is no part of a search.
    asked = {key for key in library.checks if library.system_of[key] not in (PROCEDURES, VISIT_STEPS)}
    assert asked - set(ANSWERS) == set()
    assert set(ANSWERS) - asked == set()
    assert set(SYMPTOMS) == set(library.symptoms)
    assert set(library.symptoms) > INDICATIONS


def units_to_ask(library: Library) -> Iterator[tuple[str, Technician, list[str]]]:
    """For each fault a technician at a unit that has it, and the checks that such a unit can be asked."""
    profiles = [*library.profiles.values(), *library.generals.values()]
    for place, (fault, suspect) in enumerate(sorted(library.suspects.items())):
        rng = Random(place)
        able = [profile for profile in profiles if set(suspect.needs) <= sound_unit(profile, rng, True).features]
        unit = broken_unit(rng.choice(able), suspect, rng)
        checks = [key for key, check in library.checks.items() if key in ANSWERS and set(check.needs) <= unit.features]
        yield fault, Technician(library, unit, rng, 0.0), checks


def test_every_answer_can_be_judged_and_said_in_one_breath(library: Library) -> None:
    """A third of the units: each check is asked of some fifty of them, whatever is wrong with them."""
    judged = 0
    for fault, technician, checks in islice(units_to_ask(library), 0, None, 3):
        for key in checks:
            check = library.checks[key]
            judgement = judge(check, technician.answer(check), library, technician.unit.profile)
            assert judgement.outcome in check.outcomes, (fault, key)
            assert sum(chance for _, chance in judgement.chances) == pytest.approx(1), (fault, key)
            said = catalogue().in_words(judgement.says, library)
            assert len(said.split()) < 25, (fault, key, said)
            judged += 1
    assert judged > 100 * len(library.suspects) / 3


def test_a_sound_unit_passes_nearly_every_check(library: Library) -> None:
    """No check cries wolf on a unit that has nothing on a summer's day: at most one in twelve, over many units."""
    failed: dict[str, int] = {}
    units = [sound_unit(Random(seed).choice([*library.profiles.values()]), Random(seed), True) for seed in range(50)]
    summer = [unit for unit in units if unit.weather.cooling]
    for seed, unit in enumerate(summer):
        technician = Technician(library, unit, Random(seed), 0.0)
        for key in ANSWERS:
            check = library.checks[key]
            if set(check.needs) <= unit.features:
                judgement = judge(check, technician.answer(check), library, unit.profile)
                failed[key] = failed.get(key, 0) + (judgement.verdict == "fail")
    # Questions about the story have no right answer; heating a warm room runs high.
    spoken = {"work-done-lately", "nothing-story", "commission-complaint-understood", "nothing-normal-signs"}
    wolves = {key: times for key, times in failed.items() if times > len(summer) / 12 and key not in spoken}
    assert wolves == {}


def test_a_sound_unit_shows_next_to_nothing(library: Library) -> None:
    complained = 0
    for seed in range(200):
        rng = Random(seed)
        unit = sound_unit(rng.choice([*library.profiles.values(), *library.generals.values()]), rng, seed % 2 == 0)
        complained += bool(shown(unit))
    assert complained <= 10


def test_nearly_every_fault_makes_somebody_complain(library: Library) -> None:
    silent = {}
    for fault, suspect in library.suspects.items():
        able = [
            profile
            for profile in (*library.profiles.values(), *library.generals.values())
            if set(suspect.needs) <= sound_unit(profile, Random(0), True).features
        ]
        rng = Random(fault)
        seen = sum(bool(shown(broken_unit(rng.choice(able), suspect, rng))) for _ in range(20))
        if seen < 8:
            silent[fault] = seen
    assert silent == {}


def test_afterwards_checks_are_known_too(library: Library) -> None:
    after = {key for key in library.checks if library.system_of[key] == AFTER_ANY_REPAIR}
    assert after <= set(ANSWERS)
