"""The ears' names, as a command line says them."""

from __future__ import annotations

from pathlib import Path

from assistant.errors import LaddersideError

#: What every other name is made of. The first three together are the default.
_KINDS = ("whisper", "moonshine", "phoneme", "vosk")
_TOGETHER = _KINDS[:3]
#: The three that are built in, each checking the others.
DEFAULT = "all"


class EarError(LaddersideError):
    """There is no ear of that name."""


def parts(name: str) -> tuple[tuple[str, ...], Path | None]:
    """The kinds of ear in ``name``, the slowest first and the phoneme ear last, and the folder named for one of them.

    A name is "all" (the three that are built in), one kind, several joined by "+" with the phoneme ear among them, or
    "vosk=FOLDER" (Vosk with the quick ones built in; without a folder, that of the environment). Raises EarError.
    """
    kind, _, folder = name.partition("=")
    named = Path(folder).expanduser() if folder else None
    if kind == DEFAULT:
        return _TOGETHER, None
    if kind == "vosk":
        return ("vosk", *_TOGETHER[1:]), named
    kinds = tuple(each for each in _KINDS if each in kind.split("+"))
    together = len(kinds) == 1 or "phoneme" in kinds
    if "+".join(sorted(kinds)) != "+".join(sorted(kind.split("+"))) or "vosk" in kinds or not together:
        raise EarError(
            f"There is no ear called “{name}”; choose {DEFAULT}, {', '.join(_TOGETHER)}, vosk=FOLDER, "
            "or some joined by + with phoneme among them."
        )
    return kinds, named
