"""The catalogue's own promises: complete entries, honest errors, the API that commands and dialogue use."""

from __future__ import annotations

import ast
import string
import subprocess
import sys
from pathlib import Path

import pytest

import assistant.calculations
from assistant.calculations import catalogue, units
from assistant.calculations.entry import TABLE, WORD, Calculation, Output, Parameter, Value
from assistant.calculations.errors import BadUnit, Inconsistent, Missing, OutOfRange, UnknownName

FOLDER = Path(assistant.calculations.__file__).parent
ENTRIES = pytest.mark.parametrize("calculation", [pytest.param(c, id=n) for n, c in catalogue.CATALOGUE.items()])


@ENTRIES
def test_entry_is_complete(calculation: Calculation) -> None:
    names = [p.name for p in calculation.parameters] + [o.name for o in calculation.outputs]
    assert len(names) == len(set(names)), "a parameter and an output share a name"
    assert calculation.outputs
    assert calculation.formula
    assert len(calculation.source) > 5
    for template in (calculation.numbers, calculation.source):
        assert {f for _, f, _, _ in string.Formatter().parse(template) if f} <= set(names)
    things: list[Parameter | Output] = [*calculation.parameters, *calculation.outputs]
    for thing in things:
        assert thing.quantity in units.QUANTITIES or thing.quantity in (WORD, TABLE)
    for parameter in calculation.parameters:
        if parameter.said_in:
            units.to_inside(parameter.quantity, 1.0, parameter.said_in)


def test_names_are_unique_and_sayable() -> None:
    entries = list(catalogue.CATALOGUE.values())
    spoken = [phrase for e in entries for phrase in e.spoken]
    assert len(spoken) == len(set(spoken))
    assert all(phrase == phrase.lower() for phrase in spoken)
    assert all(set(name) <= set(string.ascii_lowercase + string.digits + "-") for name in catalogue.CATALOGUE)


def test_the_sum_asked_aloud() -> None:
    """ "superheat: suction one twenty three, line fifty two", the refrigerant being the visit's."""
    known: dict[str, Value] = {"refrigerant": "R410A", "altitude": 0.0, "indoor_colour": "white"}
    result = catalogue.run("superheat", {"suction": 848.05, "line": 11.11}, known)
    assert result.value == pytest.approx(5.55, abs=0.02)
    assert result.unit == "K"
    assert result.text == "superheat = 5.5 K (10 °F)"
    assert result.numbers == (
        "11.1 °C (52 °F) ± 0.75 K (1.3 °F) - 5.6 °C (42 °F) "
        "(R410A at 848 kPa (123 psig) ± 11.74 kPa (1.703 psi), altitude 0 m (0 ft))"
    )
    assert result.answers[0].text_with_uncertainty == "5.5 K (10 °F) ± 0.85 K (1.5 °F)"
    assert "a usual digital refrigerant gauge, contact thermometer" in result.source
    assert "CoolProp" in result.source


def test_given_values_win_over_known_ones() -> None:
    result = catalogue.run("warming-potential", {"refrigerant": "R32"}, {"refrigerant": "R22"})
    assert result.value == 675


def test_refusals_say_what_to_do() -> None:
    with pytest.raises(UnknownName, match="superheat"):
        catalogue.run("superheet", {})
    with pytest.raises(Missing, match="superheat needs refrigerant"):
        catalogue.run("superheat", {"suction": 800.0, "line": 10.0})
    with pytest.raises(UnknownName, match="altitude"):
        catalogue.run("superheat", {"moon": 1.0})
    with pytest.raises(BadUnit, match="line must be a number in degC"):
        catalogue.run("superheat", {"suction": 800.0, "line": "warm", "refrigerant": "R32"})
    with pytest.raises(BadUnit, match="must be a word"):
        catalogue.run("superheat", {"suction": 800.0, "line": 10.0, "refrigerant": 32.0})
    with pytest.raises(UnknownName, match="winding metal"):
        catalogue.run("winding-rise", {"hot": 1.2, "cold": 1.0, "cold_at": 20.0, "ambient": 20.0, "metal": "tin"})
    with pytest.raises(Inconsistent, match="phases must be 1 or 3"):
        catalogue.run("power", {"voltage": 230.0, "current": 5.0, "phases": 2.0})
    with pytest.raises(OutOfRange, match="line temperature is 900 °C; allowed is -80 to 200 °C"):
        catalogue.run("superheat", {"suction": 800.0, "line": 900.0, "refrigerant": "R32"})


def test_tables_and_open_lines_are_read_from_text() -> None:
    values = catalogue.read(
        "sensor", {"resistance": "OL", "temperature": "77F", "table": "0C:27.3kohm, 25C:10kohm,50C:4.1k"}
    )
    assert values["table"] == ((0.0, 27_300.0), (25.0, 10_000.0), (50.0, 4_100.0))
    assert catalogue.run("sensor", values).value == "open"
    with pytest.raises(BadUnit, match="25C 10kohm"):
        catalogue.read_table("0C:27kohm,25C 10kohm")
    with pytest.raises(BadUnit, match="line: "):
        catalogue.read("superheat", {"line": "52 furlong"})
    with pytest.raises(UnknownName, match="wind"):
        catalogue.read("superheat", {"wind": "5"})


def test_importing_needs_no_heavy_library() -> None:
    """CoolProp, NumPy, pydantic and PsychroLib wait until a calculation wants them."""
    code = (
        "import sys, assistant.calculations.catalogue as c;"
        "heavy = {'CoolProp', 'numpy', 'pydantic', 'psychrolib', 'scipy'};"
        "print(sorted(heavy & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_calculations_know_nothing_of_the_rest() -> None:
    """Only the root error, the table of quantities and their own folder are imported from the assistant."""
    for path in FOLDER.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("assistant"):
                may = ("assistant.errors", "assistant.calculations", "assistant.quantities")
                assert (node.module or "").startswith(may), path


def test_every_public_function_has_its_docstring() -> None:
    for path in FOLDER.rglob("*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        assert ast.get_docstring(tree), path
        classes = [node for node in tree.body if isinstance(node, ast.ClassDef)]
        for node in [*tree.body, *(inner for c in classes for inner in c.body)]:
            if isinstance(node, (ast.FunctionDef, ast.ClassDef)) and not node.name.startswith("_"):
                assert ast.get_docstring(node), f"{path.name}: {node.name}"
