"""``ladderside calculate``: any calculation of the catalogue from the shell, with its working."""

from __future__ import annotations

import argparse
import json
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from assistant.commands.shared import add_json
from assistant.errors import LaddersideError

if TYPE_CHECKING:
    from assistant.calculations.entry import Calculation, Parameter, Result

_EXAMPLES = """examples:
  ladderside calculate
  ladderside calculate superheat
  ladderside calculate superheat suction=123psig line=52F refrigerant=R410A
  ladderside calculate sensor resistance="4.2 kohm" temperature=77F r25=10kohm beta=3435
  ladderside calculate bleed-time start=325V limit=60V bleed=100kohm capacitance=1000uF --json
"""


#: Longest value, signs: a table of a thermistor has some dozen points.
_LONGEST = 400


class BadValue(LaddersideError):
    """A value on the command line that is not written NAME=VALUE."""


def add_parser(subparsers: Any) -> None:
    """Add this command to the command line."""
    parser = subparsers.add_parser(
        "calculate",
        help="list the calculations, or run one with its working",
        epilog=_EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("name", nargs="?", metavar="CALCULATION", help="without a name: the list")
    parser.add_argument(
        "values", nargs="*", metavar="NAME=VALUE", help="values with units; without any: what the calculation takes"
    )
    add_json(parser, "print the list, what it takes, or the result as JSON")
    parser.set_defaults(func=run)


def run(args: argparse.Namespace) -> int:
    """List, describe or run, and print."""
    from assistant.calculations import catalogue
    from assistant.calculations.errors import OutOfRange

    if args.name is None:
        print(_list_json(catalogue.CATALOGUE.values()) if args.json else _list(list(catalogue.CATALOGUE.values())))
        return 0
    calculation = catalogue.find(args.name)
    if not args.values:
        print(_json(_described(calculation)) if args.json else _description(calculation))
        return 0
    pairs = _pairs(args.values)
    try:
        result = catalogue.run(args.name, catalogue.read(args.name, pairs))
    except OutOfRange as error:
        raise catalogue.in_given_unit(error, args.name, pairs) from error
    print(_json(_result_data(result)) if args.json else _working(calculation, result))
    return 0


def _pairs(texts: Sequence[str]) -> dict[str, str]:
    """NAME=VALUE texts as a dictionary. Raises BadValue."""
    pairs: dict[str, str] = {}
    for text in texts:
        name, equals, value = text.partition("=")
        name = name.strip().replace("-", "_")
        if not equals or not name or not value.strip():
            raise BadValue(f"{text!r} is not written NAME=VALUE, like line=52F.")
        if len(value) > _LONGEST:
            raise BadValue(f"The value of {name[:40]} has {len(value)} signs; no number that is measured has so many.")
        if name in pairs:
            raise BadValue(f"{name} is given twice.")
        pairs[name] = value.strip()
    return pairs


def _list(calculations: Sequence[Calculation]) -> str:
    widest = max(len(c.name) for c in calculations)
    lines: list[str] = []
    subject = ""
    for calculation in calculations:
        if calculation.subject != subject:
            subject = calculation.subject
            lines += ["", subject] if lines else [subject]
        lines.append(f"  {calculation.name:<{widest}}  {calculation.about}")
    return "\n".join([*lines, "", "ladderside calculate CALCULATION shows what one takes."])


def _list_json(calculations: Any) -> str:
    return _json([{"name": c.name, "subject": c.subject, "about": c.about} for c in calculations])


def _description(calculation: Calculation) -> str:
    widest = max(len(p.name) for p in calculation.parameters)
    lines = [f"{calculation.name}: {calculation.about}", ""]
    lines += [f"  {p.name:<{widest}}  {_takes(p)}" for p in calculation.parameters]
    lines += ["", f"  formula  {calculation.formula}", "  gives    " + ", ".join(o.about for o in calculation.outputs)]
    return "\n".join(lines)


def _takes(parameter: Parameter) -> str:
    """What a parameter is, how to write it, and whether it may be left out."""
    from assistant.calculations import entry, units

    if parameter.quantity == entry.WORD:
        how = " or ".join(parameter.choices) or "a word"
    elif parameter.quantity == entry.TABLE:
        how = "like 0C:27.3kohm,25C:10kohm,50C:4.16kohm"
    elif parameter.quantity == "count":
        how = "a number"
    else:
        how = "in " + ", ".join(units.units_of(parameter.quantity))
    how += ", or OL" if parameter.open_line else ""
    if parameter.required:
        return f"{parameter.about}; {how}"
    left_out = "may be left out" if parameter.default is None else entry.shown(parameter.quantity, parameter.default)
    return f"{parameter.about}; {how} [{left_out}]"


def _working(calculation: Calculation, result: Result) -> str:
    first, *rest = result.answers
    lines = [
        calculation.about,
        f"  formula  {result.formula}",
        f"  numbers  {result.numbers}",
        f"  result   {first.about} = {first.text_with_uncertainty}",
        *(f"           {answer.about} = {answer.text_with_uncertainty}" for answer in rest if not answer.in_source),
        f"  source   {result.source}",
    ]
    return "\n".join(lines)


def _described(calculation: Calculation) -> dict[str, Any]:
    return {
        "name": calculation.name,
        "subject": calculation.subject,
        "about": calculation.about,
        "formula": calculation.formula,
        "takes": [
            {
                "name": p.name,
                "quantity": p.quantity,
                "unit": p.unit,
                "about": p.about,
                "required": p.required,
                "default": p.default,
                "choices": p.choices,
            }
            for p in calculation.parameters
        ],
        "gives": [{"name": o.name, "quantity": o.quantity, "about": o.about} for o in calculation.outputs],
    }


def _result_data(result: Result) -> dict[str, Any]:
    return {
        "calculation": result.name,
        "value": result.value,
        "unit": result.unit,
        "answers": [
            {
                "name": a.name,
                "about": a.about,
                "value": a.value,
                "unit": a.unit,
                "uncertainty": a.expanded,
                "text": a.text,
            }
            for a in result.answers
        ],
        "formula": result.formula,
        "numbers": result.numbers,
        "result": result.text,
        "source": result.source,
    }


def _json(data: Any) -> str:
    return json.dumps(data, ensure_ascii=False, indent=2)
