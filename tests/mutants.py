"""Small mistakes that somebody could make in a module: what mutation testing puts in, one at a time.

Kinds: a number a little off, a comparison turned round, another arithmetic, and for or, least for largest, a sign or a
``not`` lost. Not among them: "<" for "<=", which no float tells apart (a row on either side of each threshold holds
those), and texts, which no test should repeat.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

_COMPARED: dict[type[ast.cmpop], str] = {
    ast.Lt: ">=",
    ast.LtE: ">",
    ast.Gt: "<=",
    ast.GtE: "<",
    ast.Eq: "!=",
    ast.NotEq: "==",
    ast.In: "not in",
    ast.NotIn: "in",
    ast.Is: "is not",
    ast.IsNot: "is",
}
_REACHED: dict[type[ast.operator], str] = {ast.Add: "-", ast.Sub: "+", ast.Mult: "/", ast.Div: "*", ast.Pow: "*"}
_SWAPPED = {"min": "max", "max": "min", "any": "all", "all": "any"}


@dataclass(frozen=True)
class Mutant:
    """``source`` of the module at ``path`` with one mistake; ``what`` was put in, ``line`` where, and within what."""

    path: Path
    line: int
    within: str
    what: str
    source: str

    @property
    def name(self) -> str:
        """The module as it is imported."""
        return ".".join(self.path.with_suffix("").parts)

    def __str__(self) -> str:
        return f"{self.path}:{self.line} {self.within}: {self.what}"


def mutants(path: Path) -> Iterator[Mutant]:
    """Every mistake in the module at ``path`` (from the root), in the order of its lines."""
    text = path.read_text(encoding="utf-8")
    starts = [0]
    for line in text.encode().splitlines(keepends=True):
        starts.append(starts[-1] + len(line))
    raw = text.encode()
    for node, within in _nodes(ast.parse(text), "module"):
        for old, new in _mistakes(node):
            begin = starts[old.lineno - 1] + old.col_offset
            end = starts[(old.end_lineno or old.lineno) - 1] + (old.end_col_offset or 0)
            mistaken = raw[:begin] + new.encode() + raw[end:]
            was = " ".join(raw[begin:end].decode().split())
            yield Mutant(path, old.lineno, within, f"{new}  for  {was}"[:120], mistaken.decode())


def _nodes(tree: ast.AST, within: str) -> Iterator[tuple[ast.expr, str]]:
    """Every expression with the function it stands in, without annotations."""
    for field, value in ast.iter_fields(tree):
        if field in ("annotation", "returns", "decorator_list", "type_params"):
            continue
        for child in value if isinstance(value, list) else [value]:
            if not isinstance(child, ast.AST) or isinstance(child, ast.JoinedStr):  # places in those are not to be had
                continue
            if isinstance(child, ast.expr):
                yield child, within
            named = isinstance(child, ast.FunctionDef | ast.ClassDef) and within == "module"
            yield from _nodes(child, child.name if named else within)  # type: ignore[attr-defined]


def _mistakes(node: ast.expr) -> Iterator[tuple[ast.expr, str]]:
    """What is written instead of a node, or of a part of it."""
    match node:
        case ast.Constant(value=bool(value)):
            yield node, str(not value)
        case ast.Constant(value=int(value)):
            yield node, str(value + 1)
        case ast.Constant(value=float(value)):
            yield node, repr(value * 1.1 if value else 0.1)
        case ast.Compare(left=left, ops=[op], comparators=[right]) if type(op) in _COMPARED:
            yield node, f"({ast.unparse(left)} {_COMPARED[type(op)]} {ast.unparse(right)})"
        case ast.Compare(left=left, ops=[one, two], comparators=[middle, right]) if type(one) in _COMPARED:
            yield node, f"({ast.unparse(left)} {_COMPARED[type(one)]} {ast.unparse(middle)})"
            yield node, f"({ast.unparse(middle)} {_COMPARED[type(two)]} {ast.unparse(right)})"
        case ast.BinOp(left=left, op=op, right=right) if type(op) in _REACHED and not _is_text(left, right):
            yield node, f"(({ast.unparse(left)}) {_REACHED[type(op)]} ({ast.unparse(right)}))"
        case ast.BoolOp(op=op, values=values):
            joint = " or " if isinstance(op, ast.And) else " and "
            yield node, f"({joint.join(f'({ast.unparse(value)})' for value in values)})"
        case ast.UnaryOp(op=ast.USub() | ast.Not(), operand=operand):
            yield node, f"({ast.unparse(operand)})"
        case ast.Call(func=ast.Name(id=name) as called) if name in _SWAPPED:
            yield called, _SWAPPED[name]


def _is_text(*parts: ast.expr) -> bool:
    return any(isinstance(part, ast.JoinedStr) or (isinstance(part, ast.Constant) and isinstance(part.value, str))
               for part in parts)  # fmt: skip
