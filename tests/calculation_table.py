"""The table of checks behind every calculation, made by running the tests: ``python -m tests.calculation_table``.

Only checks that passed are counted, and of those only what says something that the author did not: a row that repeats
the formula with a rounded constant, a verdict word that the author worked out, and a value from memory stand apart.
``--into tests/reference/README.md`` writes the table between the two marker comments of that file; ``--marked`` counts
the checks there are without running them, which CI does anyway, and so finds a table that is out of date.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from pathlib import Path

import pytest

from assistant.calculations.catalogue import CATALOGUE
from tests.calculations.checks import KINDS, MARK_OUTSIDE, MARK_PROPERTY, OUTSIDE

BEGIN, END = "<!-- calculation checks: begin -->", "<!-- calculation checks: end -->"
NOT_COUNTED = tuple(kind for kind in KINDS if kind not in OUTSIDE)


class Counting:
    """A pytest plugin that counts the marks of the tests that passed."""

    def __init__(self) -> None:
        self.outside: Counter[tuple[str, str]] = Counter()
        self.properties: Counter[str] = Counter()
        self.failed: list[str] = []
        self.items: dict[str, pytest.Item] = {}

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Remember the tests by name, and run only those that carry a mark."""
        items[:] = [i for i in items if i.get_closest_marker(MARK_OUTSIDE) or i.get_closest_marker(MARK_PROPERTY)]
        self.items = {item.nodeid: item for item in items}

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Count a test's marks once it has passed."""
        if report.failed:
            self.failed.append(report.nodeid)
        if report.when != "call" or not report.passed:
            return
        self.count(self.items[report.nodeid])

    def count(self, item: pytest.Item) -> None:
        """Count the marks of one test."""
        for mark in item.iter_markers(MARK_OUTSIDE):
            self.outside[mark.args[0], mark.args[1]] += 1
        for mark in item.iter_markers(MARK_PROPERTY):
            self.properties[mark.args[0]] += 1


def counted() -> Counting:
    """Run the tests of the calculations, quietly. Raises SystemExit naming the tests that failed."""
    counting = Counting()
    pytest.main(["-q", "--no-header", "--no-summary", "-p", "no:cacheprovider", "tests/calculations"], [counting])
    if counting.failed:
        raise SystemExit("The table is only made when every check passes; failed: " + ", ".join(counting.failed))
    return counting


def marked() -> Counting:
    """Count the marks of all tests of the calculations without running them."""
    counting = Counting()
    quiet = ["-q", "--no-header", "--no-summary", "-p", "no:cacheprovider", "--collect-only"]
    pytest.main([*quiet, "tests/calculations"], [counting])
    for item in counting.items.values():
        counting.count(item)
    return counting


def table(counting: Counting) -> str:
    """The markdown table, one line a calculation, then the totals and those that nothing outside stands behind."""
    names = {name for name, _ in counting.outside} | set(counting.properties)
    if strange := names - set(CATALOGUE):
        raise SystemExit(f"Marks name calculations that do not exist: {', '.join(sorted(strange))}")
    lines = [
        f"| calculation | {' | '.join(OUTSIDE)} | outside | not counted | properties |",
        "|---|" + "---:|" * (len(OUTSIDE) + 3),
    ]
    for name in CATALOGUE:
        kinds = [counting.outside[name, kind] for kind in OUTSIDE]
        apart = sum(counting.outside[name, kind] for kind in NOT_COUNTED)
        figures = [*kinds, sum(kinds), apart, counting.properties[name]]
        lines.append(f"| {name} | " + " | ".join(str(f or "") for f in figures) + " |")
    kinds = [sum(counting.outside[name, kind] for name in CATALOGUE) for kind in OUTSIDE]
    apart = sum(counting.outside[name, kind] for name in CATALOGUE for kind in NOT_COUNTED)
    totals = [*kinds, sum(kinds), apart, sum(counting.properties.values())]
    lines.append("| **all** | " + " | ".join(f"**{t}**" for t in totals) + " |")
    alone = [n for n in CATALOGUE if not any(counting.outside[n, kind] for kind in OUTSIDE)]
    remembered = [n for n in alone if any(counting.outside[n, kind] for kind in NOT_COUNTED)]
    bare = [n for n in alone if n not in remembered]
    lines += ["", *(f"- {kind}: {meaning}" for kind, meaning in KINDS.items())]
    lines.append(
        "- properties: tests over any input (Hypothesis), among them: no answer but a finite one or a named error"
    )
    lines.append("")
    lines.append(f"Checked only by what is not counted: {', '.join(remembered) or 'none'}.")
    lines.append(f"No outside check: {', '.join(bare) or 'none'}.")
    return "\n".join(lines)


def write_into(path: Path, text: str) -> None:
    """Put the table between the markers of ``path``. Raises SystemExit when they are not there."""
    whole = path.read_text(encoding="utf-8")
    if BEGIN not in whole or END not in whole:
        raise SystemExit(f"{path} needs the lines {BEGIN} and {END} around the place of the table.")
    before, after = whole.split(BEGIN)[0], whole.split(END)[1]
    path.write_text(f"{before}{BEGIN}\n{text}\n{END}{after}", encoding="utf-8")


def main(argv: list[str] | None = None) -> int:
    """Print the table, or write it into a file."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--into", type=Path, metavar="FILE", help="write between the markers of this file")
    parser.add_argument("--marked", action="store_true", help="count the checks without running them")
    args = parser.parse_args(argv)
    said, sys.stdout = sys.stdout, sys.stderr  # pytest's own dots must not land in the table
    try:
        counting = marked() if args.marked else counted()
    finally:
        sys.stdout = said
    text = table(counting)
    if args.into is None:
        print(text)
    else:
        write_into(args.into, text)
        print(f"{args.into}: {sum(counting.outside.values())} checks behind {len(CATALOGUE)} calculations")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
