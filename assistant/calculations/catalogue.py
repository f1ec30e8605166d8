"""Every calculation by name: what it takes, what it gives, its formula and source; and the way to run it.

    >>> result = run("superheat", {"suction": 848.0, "line": 11.1, "refrigerant": "R410A"})
    >>> result.value, result.unit
    >>> result.formula, result.numbers, result.text, result.source

``run(name, values, known)`` takes each value in the unit of its parameter (``Parameter.unit``: kPa gauge, °C, ohm, V,
A, W, Hz, µF, K, m³/h, kg, m, s, rpm, %: the same that spoken readings are kept in), a word, or rows for a table;
``math.inf`` is an open line where the parameter allows it. ``known`` are values that the caller knows anyway, such as
the visit's refrigerant and altitude; a calculation without such a parameter ignores them.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from assistant.calculations import instruments, refrigerants, units, working
from assistant.calculations.entries import (
    air,
    charge,
    judging,
    motors,
    parts,
    power,
    power_stage,
    pressures,
    refrigerant,
    refrigerant_lines,
    tightness,
    wiring,
)
from assistant.calculations.entries import supply as supply_entries
from assistant.calculations.entries import thermistors as thermistor_entries
from assistant.calculations.entry import TABLE, WORD, Calculation, Parameter, Result, Value
from assistant.calculations.errors import BadUnit, Inconsistent, Missing, OutOfRange, UnknownName
from assistant.calculations.found import Limit
from assistant.calculations.uncertainty import Accuracy, Metered
from assistant.calculations.world import refuse_absurd
from assistant.quantities.table import sign

CATALOGUE: dict[str, Calculation] = {
    entry.name: entry
    for module in (
        thermistor_entries,
        motors,
        supply_entries,
        wiring,
        power_stage,
        parts,
        pressures,
        refrigerant,
        refrigerant_lines,
        charge,
        tightness,
        air,
        power,
        judging,
    )
    for entry in module.ENTRIES
}

OPEN_LINE_WORDS = frozenset({"ol", "open", "open line", "o.l", "o.l."})


def find(name: str) -> Calculation:
    """The calculation called ``name``; UnknownName with the nearest names otherwise."""
    if name in CATALOGUE:
        return CATALOGUE[name]
    import difflib  # only for a name that is wrong: costs 20 ms

    near = difflib.get_close_matches(name, CATALOGUE, n=5, cutoff=0.4)
    raise UnknownName("calculation", name, near or CATALOGUE)


def run(name: str, values: Mapping[str, Value], known: Mapping[str, Value] | None = None) -> Result:
    """Run a calculation. Raises UnknownName, Missing, BadUnit, and what the calculation itself raises (errors.py)."""
    calculation = find(name)
    names = [p.name for p in calculation.parameters]
    for given in values:
        if given not in names:
            raise UnknownName("value", given, names)
    everything = {k: v for k, v in (known or {}).items() if k in names} | dict(values)
    taken = {p.name: _checked(calculation, p, everything.get(p.name)) for p in calculation.parameters}
    taken |= {p.name: metered for p in calculation.parameters if (metered := _metered(p, taken)) is not None}
    result = working.worked_out(calculation, taken, everything)
    refuse_absurd(calculation, taken)
    return result


def read(name: str, texts: Mapping[str, str]) -> dict[str, Value]:
    """Values of a calculation from text ("123psig", "OL", "0C:27.3kohm,25C:10kohm"), ready for ``run``."""
    calculation = find(name)
    values: dict[str, Value] = {}
    for key, text in texts.items():
        parameter = calculation.parameter(key)
        if parameter is None:
            raise UnknownName("value", key, [p.name for p in calculation.parameters])
        values[key] = _read(parameter, text)
    return values


def _read(parameter: Parameter, text: str) -> Value:
    if parameter.quantity == WORD:
        return text.strip()
    if parameter.quantity == TABLE:
        return read_table(text)
    if parameter.open_line and text.strip().lower() in OPEN_LINE_WORDS:
        return math.inf
    try:
        return units.parse(parameter.written_as, text)
    except BadUnit as error:
        raise BadUnit(f"{parameter.name}: {error}") from error


def in_given_unit(error: OutOfRange, name: str, texts: Mapping[str, str]) -> OutOfRange:
    """The same refusal in the unit in which the value was written, where it is one of ``texts`` as ``read`` took it."""
    calculation = find(name)
    for key, text in texts.items():
        parameter = calculation.parameter(key)
        if parameter is None or parameter.quantity not in units.QUANTITIES or text.strip().lower() in OPEN_LINE_WORDS:
            continue
        value, symbol = units.read(parameter.written_as, text)
        if math.isclose(value, error.value, rel_tol=1e-9) and units.is_inside(parameter.quantity, error.unit):
            given, *limits = (
                units.from_inside(parameter.written_as, each, symbol) for each in (value, error.low, error.high)
            )
            return OutOfRange(error.quantity, given, min(limits), max(limits), sign(symbol))
    return error


def read_table(text: str) -> tuple[tuple[float, float], ...]:
    """Rows "0C:27.3kohm, 25C:10kohm" as (°C, ohm). Raises BadUnit naming the row that cannot be read."""
    rows = []
    for row in filter(None, (part.strip() for part in text.split(","))):
        temperature, colon, resistance = row.partition(":")
        if not colon:
            raise BadUnit(f"Row {row!r} is not a temperature and a resistance like 25C:10kohm.")
        rows.append((units.parse("temperature", temperature), units.parse("resistance", resistance)))
    return tuple(rows)


def _checked(calculation: Calculation, parameter: Parameter, value: Value) -> Value:
    """The value to compute with: default filled in, kind and choice checked. Ranges are the function's own."""
    if value is None:
        if parameter.required:
            about = "" if parameter.about == parameter.name else f" ({parameter.about})"
            raise Missing(f"{calculation.name} needs {parameter.name}{about}.")
        return parameter.default
    if parameter.quantity == WORD:
        return _word(parameter, value)
    if parameter.quantity == TABLE:
        return _table(parameter, value)
    if isinstance(value, Metered):
        if not value.open:
            _checked(calculation, parameter, value.value)
        elif not parameter.open_line:
            raise BadUnit(f"{parameter.name} must be a number in {parameter.unit}; the meter shows an open line.")
        return value
    if isinstance(value, (str, tuple, bool)):
        raise BadUnit(f"{parameter.name} must be a number in {parameter.unit}, not {value!r}.")
    if math.isinf(value) and value > 0 and parameter.open_line:
        return math.inf
    if not math.isfinite(value):
        raise OutOfRange(parameter.about, value, -1e30, 1e30, parameter.unit)
    if parameter.name == "phases" and value not in (1, 3):
        raise Inconsistent(f"phases must be 1 or 3, not {value:g}.")
    if parameter.name == "pulses_per_turn" and value != int(value):
        raise Inconsistent(f"pulses_per_turn must be a whole number, not {value:g}.")
    return value if isinstance(value, Limit) else float(value)


def _metered(parameter: Parameter, taken: Mapping[str, Value]) -> Metered | None:
    """The reading with its instrument: the usual one, or as good as the calculation was told. None for other values."""
    value = taken[parameter.name]
    if not parameter.instrument or not isinstance(value, float):
        return None
    return Metered(float(value), _accuracy(parameter, taken), parameter.instrument)


def _accuracy(parameter: Parameter, taken: Mapping[str, Value]) -> Accuracy:
    accuracy = instruments.usual(parameter.instrument)
    if not parameter.accuracy:
        return accuracy
    told = {part: taken.get(f"{parameter.accuracy}{part}") for part in ("", "_percent", "_offset")}
    percent, offset = told["_percent"], told["_offset"] if told[""] is None else told[""]
    percent = percent if isinstance(percent, float) else accuracy.percent_of_reading
    offset = offset if isinstance(offset, float) else accuracy.offset
    if (percent, offset) == (accuracy.percent_of_reading, accuracy.offset):
        return accuracy
    own = None if accuracy.own is None else min(accuracy.own, offset) if offset >= 0 else None
    return Accuracy(percent, offset, own)


def _word(parameter: Parameter, value: Value) -> str:
    if not isinstance(value, str):
        raise BadUnit(f"{parameter.name} must be a word, not {value!r}.")
    if not parameter.choices:
        return value
    if parameter.name == "refrigerant":
        return refrigerants.refrigerant(value).name  # knows "R-410A" and the like
    if value.lower() in {c.lower() for c in parameter.choices}:
        return next(c for c in parameter.choices if c.lower() == value.lower())
    raise UnknownName(parameter.about, value, parameter.choices)


def _table(parameter: Parameter, value: Value) -> tuple[tuple[float, float], ...]:
    if not isinstance(value, tuple) or any(len(row) != 2 for row in value):
        raise BadUnit(f"{parameter.name} must be rows of temperature and resistance.")
    return value
