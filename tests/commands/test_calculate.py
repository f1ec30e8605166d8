"""``ladderside calculate`` as a person and a program use it."""

from __future__ import annotations

import argparse
import json

import pytest

from assistant.calculations import catalogue
from assistant.commands import calculate
from assistant.errors import LaddersideError


def ladderside(*words: str) -> int:
    """The command on its own parser, errors as ``main`` turns them into exit status 2."""
    parser = argparse.ArgumentParser()
    calculate.add_parser(parser.add_subparsers(required=True))
    args = parser.parse_args(["calculate", *words])
    try:
        return int(args.func(args))
    except LaddersideError as error:
        print(f"error: {error}")
        return 2


def test_lists_every_calculation(capsys: pytest.CaptureFixture[str]) -> None:
    assert ladderside() == 0
    shown = capsys.readouterr().out
    assert all(f"  {name} " in shown for name in catalogue.CATALOGUE)
    assert ladderside("--json") == 0
    assert {entry["name"] for entry in json.loads(capsys.readouterr().out)} == set(catalogue.CATALOGUE)


@pytest.mark.parametrize("name", sorted(catalogue.CATALOGUE))
def test_describes_every_calculation(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert ladderside(name) == 0
    shown = capsys.readouterr().out
    assert all(p.name in shown for p in catalogue.CATALOGUE[name].parameters)
    assert ladderside(name, "--json") == 0
    described = json.loads(capsys.readouterr().out)
    assert [p["name"] for p in described["takes"]] == [p.name for p in catalogue.CATALOGUE[name].parameters]


def test_prints_the_working(capsys: pytest.CaptureFixture[str]) -> None:
    assert ladderside("superheat", "suction=123psig", "line=52F", "refrigerant=r-410a") == 0
    assert capsys.readouterr().out.splitlines() == [
        "superheat",
        "  formula  superheat = T_line - T_dew(p_suction)",
        "  numbers  11.1 °C (52 °F) ± 0.75 K (1.3 °F) - 5.6 °C (42 °F) "
        "(R410A at 848.1 kPa (123 psig) ± 11.74 kPa (1.703 psi), altitude 0 m (0 ft))",
        "  result   superheat = 5.5 K (10 °F) ± 0.85 K (1.5 °F)",
        "           dew temperature = 5.6 °C (42 °F) ± 0.41 K (0.73 °F)",
        "  source   superheat counts from the dew temperature (definition); CoolProp 8.0.0, Lemmon, "
        "Int. J. Thermophys. 24 (2003), pseudo-pure, ±0.5 %; "
        "± with a usual digital refrigerant gauge, contact thermometer",
    ]


def test_values_with_spaces_and_dashes(capsys: pytest.CaptureFixture[str]) -> None:
    assert ladderside("sensor", "resistance=4.2 kohm", "temperature=77 F", "r25=10 kohm", "beta=3435") == 0
    assert "sensor = drifted" in capsys.readouterr().out
    assert ladderside("winding-imbalance", "u-v=1ohm", "v-w=1.02ohm", "w-u=0.98ohm") == 0
    assert "imbalance = 2 %" in capsys.readouterr().out


def test_json_has_numbers_for_programs(capsys: pytest.CaptureFixture[str]) -> None:
    assert ladderside("bleed-time", "start=325V", "bleed=100kohm", "capacitance=1000uF", "--json") == 0
    data = json.loads(capsys.readouterr().out)
    assert data["value"] == pytest.approx(168.95, abs=0.01)
    assert data["unit"] == "s"
    assert {a["name"] for a in data["answers"]} == {"time", "safe_wait", "note"}
    assert data["source"]


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("superheet",), "'superheet' is not known"),
        (("superheat", "suction"), "not written NAME=VALUE"),
        (("superheat", "suction=1psig", "suction=2psig"), "given twice"),
        (("superheat", "suction=123psig", "line=52F"), "needs refrigerant"),
        (("superheat", "suction=123psig", "line=52furlong", "refrigerant=R32"), "may be given in degC"),
        (("superheat", "suction=123psia", "line=52F", "refrigerant=R32"), "absolute"),
        (("superheat", "suction=123psig", "line=9999F", "refrigerant=R32"), "line temperature is 9999 °F; allowed is"),
        (("superheat", "suction=123psig", "line=52F", "refrigerant=R999"), "R999"),
        (("superheat", "suction=123psig", "line=52F", "refrigerant=R32", "colour=red"), "colour"),
    ],
)
def test_bad_input_gets_one_sentence_and_status_2(
    words: tuple[str, ...], sentence: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ladderside(*words) == 2
    shown = capsys.readouterr().out.strip()
    assert sentence in shown
    assert len(shown.splitlines()) == 1


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (
            ("superheat", "suction=123", "line=52F", "refrigerant=R32"),
            "error: suction: 123 has no unit; write 123psi or 123kPa.",
        ),
        (
            ("insulation-corrected", "measured=50 mohm", "temperature=77F"),
            "error: measured: 50 mohm may mean 50megohm or 50milliohm; write which.",
        ),
        (
            ("winding-at-temperature", "resistance=1ohm", "measured_at=1000F", "wanted_at=25C"),
            "error: winding temperature is 1000 °F; allowed is -76 to 482 °F.",
        ),
    ],
)
def test_a_value_is_refused_in_the_technicians_own_units(
    words: tuple[str, ...], sentence: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert ladderside(*words) == 2
    assert capsys.readouterr().out.strip() == sentence
