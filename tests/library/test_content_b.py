"""The refrigerant, air and water files: can they be followed, do they protect, are their limits physical?"""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from CoolProp.CoolProp import PropsSI

from assistant.language.meaning import Reading, Readings
from assistant.library.loader import Library, load
from assistant.library.models import Check, Repair
from assistant.library.profile import UnitProfile
from assistant.reasoning.judges import judge
from assistant.reasoning.reasoner import Reasoner

FILES = {
    "airflow-and-coil.yaml",
    "commissioning.yaml",
    "condensate.yaml",
    "defrost-and-icing.yaml",
    "expansion-valve.yaml",
    "installation.yaml",
    "noise-smell-water.yaml",
    "nothing-found.yaml",
    "pressure.yaml",
    "refrigerant-circuit.yaml",
    "reversing-valve.yaml",
}
SEA_LEVEL_PA = 101_325.0


@pytest.fixture(scope="module")
def library() -> Library:
    return load()


def _own(library: Library, kind: str, item: str) -> bool:
    return library.files[kind, item].name in FILES


def _work(library: Library) -> Iterator[tuple[str, tuple[str, ...], tuple[str, ...], str]]:
    """Every check and repair of these files: name, tools, precautions, energy."""
    for key, check in library.checks.items():
        if _own(library, "check", key):
            yield key, check.tools, check.precautions, check.energy
    for key, suspect in library.suspects.items():
        if _own(library, "suspect", key):
            repair: Repair = suspect.repair
            yield f"repair of {key}", repair.tools, repair.precautions, repair.energy


# -- followed from symptom to proof ------------------------------------------------------------------------------------


@pytest.mark.parametrize("unit", ["copper-wren-solo", "lantern-hill-trio", "single-phase-230"])
def test_each_fault_is_found_from_its_own_symptom_by_answering_as_it_mostly_shows(library: Library, unit: str) -> None:
    profile = library.profiles.get(unit) or library.generals[unit]
    reasoner = Reasoner(library, profile)
    lost = []
    for suspect in reasoner.table.suspects:
        if _own(library, "suspect", suspect):
            symptom = max(library.symptoms.values(), key=lambda item: item.shown_by.get(suspect, 0.0))
            found, steps = _followed(library, reasoner, suspect, symptom.id)
            if found != suspect:
                lost.append(f"{suspect} from {symptom.id} ends at {found} after {', '.join(steps)}")
    assert not lost, "\n".join(lost)


def _followed(library: Library, reasoner: Reasoner, suspect: str, symptom: str) -> tuple[str | None, list[str]]:
    table, column = reasoner.table, reasoner.table.suspect_at[suspect]
    belief = reasoner.start([symptom])
    done: list[str] = []
    while reasoner.conclusion(belief, done).kind == "go-on":
        advice = reasoner.next_check(belief, done)
        assert advice is not None
        place = table.check_at[advice.check_id]
        outcome = table.outcomes[place][int(table.given[place, :, column].argmax())]
        belief = reasoner.update(belief, advice.check_id, {outcome: 1.0})
        done.append(advice.check_id)
    conclusion = reasoner.conclusion(belief, done)
    return (conclusion.suspect if conclusion.kind == "found" else None), done


def test_the_proof_of_each_repair_can_fail_for_the_fault_it_mends_or_is_a_general_one(library: Library) -> None:
    """A proof that the fault itself would pass proves nothing."""
    for key, suspect in library.suspects.items():
        if not _own(library, "suspect", key):
            continue
        proofs = [library.checks[check] for check in suspect.proof]
        assert any(_fails_for(check, key) or check.id.startswith("commission-") for check in proofs), key


def _fails_for(check: Check, suspect: str) -> bool:
    chances = check.tells.get(suspect)
    if chances is None:
        return False
    return sum(share for outcome, share in chances.items() if check.outcomes[outcome].verdict != "pass") > 0.4


# -- it protects -------------------------------------------------------------------------------------------------------

#: A tool that is in hand only when this can hurt, and the caution that belongs to it.
DANGERS = {
    "recovery machine": {"recover-first", "flammable-refrigerant"},
    "refrigerant gauge": {"refrigerant-burn", "flammable-refrigerant"},
    "brazing kit": {"brazing", "recover-first", "never-oxygen"},
    "nitrogen": {"nitrogen-regulator", "never-oxygen"},
    "vacuum pump": {"no-run-in-vacuum"},
    "coil cleaner": {"coil-cleaner"},
    "insulation tester": {"insulation-test-volts"},
    "clamp meter": {"live-work"},
}


def test_every_tool_that_can_hurt_brings_its_caution(library: Library) -> None:
    missing = []
    for name, tools, precautions, _ in _work(library):
        for tool, needed in DANGERS.items():
            if tool in tools and not needed <= set(precautions):
                missing.append(f"{name}: {tool} without {', '.join(sorted(needed - set(precautions)))}")
    assert not missing, "\n".join(missing)


def test_a_circuit_is_opened_only_with_the_power_locked_out(library: Library) -> None:
    for name, _, precautions, energy in _work(library):
        if {"recover-first", "brazing"} & set(precautions):
            assert energy in ("isolated", "proved-dead"), name


def test_ohms_are_measured_on_dead_parts_only(library: Library) -> None:
    for key, check in library.checks.items():
        measured = any(question.reading and question.reading.quantity == "resistance" for question in check.ask)
        if _own(library, "check", key) and measured:
            assert check.energy == "proved-dead", key


def test_a_running_unit_is_approached_with_a_word_about_its_fan(library: Library) -> None:
    moving = {"rotating-fan", "live-work", "pour-away", "hot-discharge"}
    for key, check in library.checks.items():
        if _own(library, "check", key) and check.energy == "live":
            assert moving & set(check.precautions), key


# -- its limits are physical, for every refrigerant --------------------------------------------------------------------

FLUIDS = {"R32": "R32", "R410A": "R410A", "R22": "R22", "R407C": "R407C", "R134a": "R134a", "R290": "R290"}


def _with(library: Library, refrigerant: str) -> UnitProfile:
    return library.general("single-phase-230", refrigerant)


def _gauge_kpa(fluid: str, celsius: float, quality: int) -> float:
    pascal: float = PropsSI("P", "T", celsius + 273.15, "Q", quality, fluid)
    return (pascal - SEA_LEVEL_PA) / 1000


def _says(quantity: str, value: float) -> Readings:
    reading = Reading.model_validate(
        {"quantity": quantity, "value": value, "spoken_value": value, "spoken_unit": "", "unit_assumed": True}
    )
    return Readings(items=(reading,))


def _outcome(library: Library, check: str, refrigerant: str, pressure_kpa: float, **temperatures: float) -> str:
    answers = {key: _says("temperature", value) for key, value in temperatures.items()}
    answers["pressure"] = _says("pressure_gauge", pressure_kpa)
    return judge(library.checks[check], answers, library, _with(library, refrigerant)).outcome


@pytest.mark.parametrize(("refrigerant", "fluid"), FLUIDS.items())
@pytest.mark.parametrize(
    ("boiling_c", "superheat_k", "outcome"), [(8, 5, "ok"), (-4, 16, "high"), (12, -1, "low"), (3, 8, "ok")]
)
def test_superheat_is_judged_alike_for_every_refrigerant(
    library: Library, refrigerant: str, fluid: str, boiling_c: float, superheat_k: float, outcome: str
) -> None:
    pressure = _gauge_kpa(fluid, boiling_c, 1)
    if refrigerant == "R32" and outcome == "low":
        outcome = "ok"  # its valve may be led by the discharge temperature, with the suction about saturated
    assert _outcome(library, "circuit-superheat", refrigerant, pressure, line=boiling_c + superheat_k) == outcome


@pytest.mark.parametrize(("refrigerant", "fluid"), FLUIDS.items())
@pytest.mark.parametrize(("subcooling_k", "outcome"), [(0.5, "low"), (8, "ok"), (19, "high")])
def test_subcooling_is_judged_alike_for_every_refrigerant(
    library: Library, refrigerant: str, fluid: str, subcooling_k: float, outcome: str
) -> None:
    pressure = _gauge_kpa(fluid, 44, 0)
    assert _outcome(library, "circuit-subcooling", refrigerant, pressure, line=44 - subcooling_k) == outcome


@pytest.mark.parametrize(("refrigerant", "fluid"), FLUIDS.items())
@pytest.mark.parametrize(("nitrogen_kpa", "outcome"), [(0, "ok"), (300, "high"), (-400, "low")])
def test_the_standing_pressure_shows_foreign_gas_and_an_empty_circuit(
    library: Library, refrigerant: str, fluid: str, nitrogen_kpa: float, outcome: str
) -> None:
    pressure = max(_gauge_kpa(fluid, 24, 1) + nitrogen_kpa, 20)
    assert _outcome(library, "circuit-standing-pressure", refrigerant, pressure, temperature=24) == outcome


@pytest.mark.parametrize(("refrigerant", "fluid"), FLUIDS.items())
@pytest.mark.parametrize(("boiling_c", "outcome"), [(-6, "low"), (7, "ok"), (19, "high")])
def test_the_low_side_is_judged_by_temperature_whatever_the_refrigerant(
    library: Library, refrigerant: str, fluid: str, boiling_c: float, outcome: str
) -> None:
    assert _outcome(library, "circuit-gas-pressure", refrigerant, _gauge_kpa(fluid, boiling_c, 1)) == outcome
