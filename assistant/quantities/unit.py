"""What the tables say of a unit and of a quantity."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True)
class Unit:
    """One unit of one quantity: value inside = value · ``factor`` + ``offset``.

    ``symbol`` is how code, knowledge and JSON write it, ``signs`` how it is written for people (the first is ours;
    default: the symbol). ``one`` and ``many`` are its spoken names after 1 and after any other number. ``heard`` are
    the phrases that a technician may say for it, those of one trade dialect alone in ``american`` and ``british``;
    a unit without any is never asked for aloud. ``written`` are other spellings, in any case. ``voice`` is how a
    synthetic voice must be given the name, where that differs. ``printed``: its numbers come from a print, as
    preferred numbers, and are never read off a meter.
    """

    symbol: str
    factor: float
    one: str
    many: str = ""
    signs: tuple[str, ...] = ()
    offset: float = 0.0
    heard: tuple[str, ...] = ()
    american: tuple[str, ...] = ()
    british: tuple[str, ...] = ()
    written: tuple[str, ...] = ()
    voice: tuple[str, str] | None = None
    printed: bool = False

    def __post_init__(self) -> None:
        if self.one and not self.many:
            object.__setattr__(self, "many", f"{self.one}s")
        if not self.signs:
            object.__setattr__(self, "signs", (self.symbol,))

    @property
    def sign(self) -> str:
        """How it is written for people."""
        return self.signs[0]

    @property
    def phrases(self) -> tuple[str, ...]:
        """All that may be said for it, in every dialect."""
        return (*self.heard, *self.american, *self.british)

    @property
    def voiced(self) -> tuple[str, str]:
        """The names after one and after many, for a synthetic voice."""
        return self.voice or (self.one, self.many)


@dataclass(frozen=True)
class Kind:
    """One quantity. The first of ``units`` is the one in which its values are kept inside, with factor 1.

    ``bare`` is the unit of a number written without one; "" where technicians use several, so that such a number is
    refused with ``choices`` (symbols, the commonest first). ``beside`` is the unit of the other system of measurement
    that is shown beside the first, ``decimals`` the most decimals that an instrument of the trade can tell.
    ``prefixed``: large and small values are shown in the unit next below them. ``unsaid`` are words for a unit whose
    scale was not said. ``doubtful``: spellings that mean one unit to some and another to others, with both.
    ``measured_as`` is the quantity that a spoken reading of it has.
    """

    units: tuple[Unit, ...]
    bare: str = ""
    choices: tuple[str, ...] = ()
    beside: str = ""
    decimals: int = 8
    prefixed: tuple[str, ...] = ()
    unsaid: tuple[str, ...] = ()
    doubtful: dict[str, tuple[str, str]] = field(default_factory=dict)
    measured_as: str = ""

    @property
    def inside(self) -> Unit:
        """The unit in which values are kept."""
        return self.units[0]

    def unit(self, symbol: str) -> Unit:
        """The unit with exactly this symbol. Raises KeyError."""
        for unit in self.units:
            if unit.symbol == symbol:
                return unit
        raise KeyError(symbol)
