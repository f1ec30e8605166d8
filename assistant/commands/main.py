"""``ladderside``: the one entry point. Each command is a module with ``add_parser`` and ``run``."""

from __future__ import annotations

import argparse
import gc
import importlib
import itertools
import os
import re
import sys
from collections.abc import Mapping, Sequence
from typing import Any, NoReturn

from assistant import __version__, offline
from assistant.errors import LaddersideError
from assistant.printable import any_terminal, printable, short

#: In the order of a working day: do the job, look at what it left, look after the tool.
COMMANDS = (
    "replay",
    "visit",
    "type",
    "record",
    "amend",
    "sign",
    "photo",
    "export",
    "insights",
    "visits",
    "backup",
    "audio",
    "calculate",
    "profile",
    "library",
    "ears",
    "measure_hearing",
    "measure_words",
    "words",
)

_EPILOG = (
    "Nothing here uses a network. Visits are kept in a journal in your data folder (LADDERSIDE_HOME or the usual "
    "place for data). Local codes, the maker's manual and licensed practice come first."
)


#: What the collector waits for. Reading all knowledge makes some 700,000 things that stay: looked at as often as Python
#: does by itself, that was a fifth of the time from start to first word.
_COLLECTING = (50_000, 20, 20)
#: A word that is less like one than this is no slip of the fingers.
_NEAR = 60


class _Parser(argparse.ArgumentParser):
    """A command line that names what a mistyped word was probably meant to be."""

    def parse_known_args(self, args: Any = None, namespace: Any = None) -> tuple[Any, list[str]]:
        """What argparse makes of the words; an option that this command does not have ends it here, with its name."""
        words = list(sys.argv[1:] if args is None else args)
        for word in itertools.takewhile(lambda word: word != "--" and word not in self._commands(), words):
            option = word.partition("=")[0]
            if word.startswith("--") and not any(known.startswith(option) for known in self._option_string_actions):
                self.error(self._nearest(option, self._long_options(), f"{self.prog} "))
        told, left = super().parse_known_args(words, namespace)
        if left:
            self.error(f"there is no place for {' '.join(short(word) for word in left)}")
        return told, left

    def _commands(self) -> Sequence[str]:
        """The words that hand over to another parser."""
        inner = (action.choices for action in self._actions if isinstance(action.choices, Mapping))
        return [word for choices in inner for word in choices]

    def _long_options(self) -> Sequence[str]:
        return [option for option in self._option_string_actions if option.startswith("--")]

    def error(self, message: str) -> NoReturn:
        """One sentence and where to read more; exit status 2."""
        wrong = re.search(r"^argument (\S+): invalid choice: '(.*)' \(choose from (.*)\)$", message, re.DOTALL)
        if wrong is not None:
            there = re.findall(r"'([^']+)'", wrong[3])
            before = f"{wrong[1]} " if wrong[1].startswith("-") else ""
            message = self._nearest(wrong[2], there, f"{self.prog} {before}")
        self.exit(2, printable(f"ladderside: {message} (`{self.prog} --help` tells all)") + "\n")

    def _nearest(self, typed: str, there: Sequence[str], before: str) -> str:
        from rapidfuzz import fuzz, process  # a slip is rare, and every start counts

        found = process.extractOne(typed.lower().replace("_", "-"), there, scorer=fuzz.ratio, score_cutoff=_NEAR)
        meant = f"did you mean `{before}{found[0]}`?" if found else f"there are {', '.join(there)}"
        return f"there is no “{short(typed)}”: {meant}"


def parser() -> argparse.ArgumentParser:
    """The whole command line."""
    top = _Parser(
        prog="ladderside",
        description="A voice on the ladder: leads you through the checks of a heat pump, hears your readings, "
        "computes the verdict and writes the service record.",
        epilog=_EPILOG,
    )
    top.add_argument("--version", action="version", version=f"ladderside {__version__}")
    subparsers = top.add_subparsers(title="commands", metavar="COMMAND", required=True)
    for name in COMMANDS:
        importlib.import_module(f"assistant.commands.{name}").add_parser(subparsers)
    return top


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command. Exit status: 0 done, 1 a defect of ours, 2 something the user can put right, 130 stopped."""
    any_terminal()
    try:
        if argv is None:  # a test's process is not ours to tune, nor to shut
            gc.set_threshold(*_COLLECTING)
        args = parser().parse_args(argv)
        if argv is None:
            os.umask(0o077)  # records, replies, photos: for the user's eyes alone
            if not getattr(args, "network", False):
                offline.shut()
        return int(args.func(args) or 0)
    except LaddersideError as error:
        print(printable(f"ladderside: {error}"), file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        print("\nStopped. Everything up to the last answer is kept; --resume goes on with it.", file=sys.stderr)
        return 130
    except BrokenPipeError:
        return 0
    except Exception:
        return _own_defect()


def _own_defect() -> int:
    """A defect of ours: the details go to a file, the user gets one sentence."""
    from assistant.data.defects import SEND_IT, note_defect

    log = note_defect()
    where = f"Details are in {log}; {SEND_IT}."
    if log is None:
        where = "Its details could not be written either; check the space in your data folder."
    print(printable(f"ladderside: something went wrong on our side. Your visit is kept. {where}"), file=sys.stderr)
    return 1


if __name__ == "__main__":
    raise SystemExit(main())
