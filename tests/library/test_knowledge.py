"""What the shipped knowledge must hold, whatever its words: range, safe order, honest chances, the demo's faults."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from assistant.library.loader import Library
from assistant.library.models import Figure
from assistant.library.profile import features_of
from assistant.review.apart import differences

SYSTEMS = {
    "indoor-fan", "display-and-control", "communication", "zone-conflict", "sensors", "supply", "power-stage",
    "compressor", "outdoor-fan", "condensate", "expansion-valve", "reversing-valve", "refrigerant-circuit", "pressure",
    "defrost-and-icing", "installation", "nothing-found", "commissioning",
}  # fmt: skip


def test_the_range_of_faults(library: Library) -> None:
    assert len(library.suspects) >= 60
    assert len(library.checks) >= 120
    assert set(library.systems) >= SYSTEMS


def test_every_system_can_be_read_from_indication_to_proof(library: Library) -> None:
    """A suspect, the symptom that raises it in its own system, its confirming check: all in one file for most."""
    at_home = 0
    for suspect in library.suspects.values():
        file = library.files["suspect", suspect.id]
        confirm = any(library.files["check", check] == file for check in suspect.confirm)
        shown = any(
            suspect.id in symptom.shown_by and library.files["symptom", symptom.id] == file
            for symptom in library.symptoms.values()
        )
        at_home += confirm and shown
    assert at_home >= 0.8 * len(library.suspects)


#: What must be found absent at a place before it counts as dead: the disconnect holds no charge.
SHOWN_AT = {
    "outdoor": {"mains", "stored"},
    "indoor": {"mains", "stored"},
    "signal": {"mains", "stored"},
    "line": {"mains", "stored"},
    "supply": {"mains"},
}


def test_each_place_is_proved_dead_between_conductors_to_earth_and_of_its_charge(library: Library) -> None:
    """NFPA 70E-2024, 120.6 and 29 CFR 1910.333(b)(2)(iv): at each point of work, the meter tried after it as well."""
    proofs = [check for check in library.checks.values() if check.proves is not None]
    assert {check.proves for check in proofs} == set(SHOWN_AT)
    for place, wanted in SHOWN_AT.items():
        mine = [check for check in proofs if check.proves == place]
        assert {what for check in mine for what in check.absent} == wanted
        assert all(check.energy == "isolated" for check in mine)
        assert all(check.judge.by == "no-voltage" for check in mine)
        ac = [q.reading for check in mine for q in check.ask if q.reading and q.reading.quantity == "voltage_ac"]
        assert all({item.id for item in reading.places} == {"line", "earth"} for reading in ac)
        assert ac
        assert any("tried" in check.judge.inputs for check in mine)


def test_the_steps_that_change_the_power(library: Library) -> None:
    assert library.checks["lock-out-power"].sets_energy == {"done": "isolated"}
    assert library.checks["restore-power"].may_energize
    assert library.checks["restore-power"].outcomes["trips"].hazard == "trips-at-once"
    for name, hazard in (("starts", "still-fed"), ("cannot", "cannot-lock")):
        assert library.checks["lock-out-power"].outcomes[name].hazard == hazard


def test_two_capacitors_in_series_are_both_read(library: Library) -> None:
    series = library.checks["prove-dead-series"]
    assert series.needs == ("three-phase",)
    [reading] = [question.reading for question in series.ask if question.reading]
    assert len(reading.places) == 2


def test_before_anything_is_measured_dead_its_cautions_are_spoken(library: Library) -> None:
    for check in library.checks.values():
        if check.proves is not None:
            assert "as-live" in check.precautions, check.id
    assert library.precautions["as-live"].acknowledge
    for words in ("live", "gloves", "capacitors", "charge", "try the rated meter"):
        assert words in library.precautions["as-live"].say.lower()


def test_boards_and_windings_only_when_proved_dead(library: Library) -> None:
    """What is measured on parts that hold a charge needs the proof, not only the lock."""
    for check in library.checks.values():
        for question in check.ask:
            if question.reading and question.reading.instrument in ("diode-test", "low-ohm-meter", "insulation-tester"):
                assert check.energy == "proved-dead", check.id
    for check in library.checks.values():
        if "board-static" in check.precautions:
            assert check.energy == "proved-dead", check.id


def test_the_indoor_board_is_metered_too(library: Library) -> None:
    """The bus is proved outdoors; the indoor board's own capacitor is a second store."""
    for check in library.checks.values():
        if check.energy == "proved-dead" and check.where == "indoor" and "board-static" in check.precautions:
            assert "indoor-board-dead" in check.precautions, check.id


def test_the_insulation_tester_never_without_its_cautions_nor_on_a_compressor_in_vacuum(library: Library) -> None:
    for check in library.checks.values():
        if any(question.reading and question.reading.instrument == "insulation-tester" for question in check.ask):
            assert "insulation-test-volts" in check.precautions, check.id
    assert "no-run-in-vacuum" in library.checks["compressor-to-earth"].precautions


def test_opening_the_circuit_needs_recovery_and_fire_cautions(library: Library) -> None:
    for suspect in library.suspects.values():
        cautions = suspect.repair.precautions
        if "brazing" in cautions:
            assert {"recover-first", "flammable-refrigerant", "nitrogen-regulator"} <= set(cautions), suspect.id


def test_every_threshold_has_a_source(library: Library) -> None:
    figures = 0
    for check in library.checks.values():
        for limit in check.judge.limits.values():
            figure = limit if isinstance(limit, Figure) else limit.otherwise
            if figure is not None:
                figures += 1
                assert figure.source in library.sources, check.id
    assert figures >= 50


def test_a_source_says_what_it_is(library: Library) -> None:
    for source in library.sources.values():
        assert source.title or source.kind == "practice"
        if source.kind == "memory":
            assert library.source_text(source.id).endswith("(from memory)")


@pytest.mark.parametrize(
    ("suspect", "symptom", "check"),
    [
        ("terminals-swapped", "no-communication", "terminal-order"),
        ("pipe-sensor-drifted", "sensor-indication", "pipe-sensor-resistance"),
        ("windings-unequal", "inverter-trip", "winding-resistance"),
    ],
)
def test_the_demo_faults(library: Library, suspect: str, symptom: str, check: str) -> None:
    assert library.symptoms[symptom].shown_by[suspect] > 20 * library.symptoms[symptom].otherwise
    assert check in library.suspects[suspect].confirm
    told = library.checks[check]
    assert max(told.tells[suspect], key=told.tells[suspect].__getitem__) != max(
        told.otherwise, key=told.otherwise.__getitem__
    )


def test_a_condemned_part_has_a_check_that_condemns_it_alone_enough(library: Library) -> None:
    """The confirming check answers for the suspect quite unlike for a unit without it."""
    for suspect in library.suspects.values():
        if suspect.condemn:
            best = 0.0
            for check_id in suspect.confirm:
                check = library.checks[check_id]
                told, others = check.tells[suspect.id], check.otherwise
                best = max(best, sum(abs(told[key] - others[key]) for key in others) / 2)
            # A sensor's own display is not on every unit: those checks can answer "cannot".
            assert best >= 0.5, suspect.id


def test_every_unit_can_tell_every_pair(library: Library) -> None:
    for profile in library.profiles.values():
        has = features_of(profile)
        checks = [check for check in library.checks.values() if has.issuperset(check.needs)]
        suspects = [suspect for suspect in library.suspects.values() if has.issuperset(suspect.needs)]
        best = differences(checks, suspects).max(axis=0)
        for place in range(len(suspects)):
            best[place, place] = 1.0
        assert best.min() >= 0.3


def test_the_two_demo_units_are_unlike_and_invented(library: Library) -> None:
    solo, trio = library.profiles["copper-wren-solo"], library.profiles["lantern-hill-trio"]
    assert solo.invented
    assert trio.invented
    assert len(solo.zones) == 1
    assert len(trio.zones) == 3
    assert solo.refrigerant.name != trio.refrigerant.name
    assert solo.supply.system != trio.supply.system
    assert set(solo.sensors) != set(trio.sensors)
    shown = {phrase for profile in (solo, trio) for item in profile.indications for phrase in item.phrases}
    assert len(shown) == sum(len(item.phrases) for profile in (solo, trio) for item in profile.indications)
    # Words and lamps, nothing that could be taken for a maker's letter-and-digit table.
    assert not any(re.search(r"\b[a-z]\d|\d", phrase) for phrase in shown)


def test_no_file_of_the_knowledge_names_a_path_or_host() -> None:
    root = Path(__file__).parents[2] / "knowledge"
    for file in root.rglob("*.yaml"):
        text = file.read_text(encoding="utf-8")
        assert not re.search(r"https?://|/work/|/opt/|/tmp/", text), file.name
