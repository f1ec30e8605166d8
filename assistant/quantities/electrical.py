"""Electrical quantities. Factors are powers of ten, exact."""

from __future__ import annotations

from assistant.quantities.unit import Kind, Unit

_OHM = Unit("ohm", 1, "ohm", signs=("Ω", "\N{OHM SIGN}"), heard=("ohm", "ohms"), written=("r",))
_KILOHM = Unit(
    "kohm", 1e3, "kilohm", signs=("kΩ", "k\N{OHM SIGN}"), heard=("kilohm", "kilohms", "kilo ohms"),
    american=("k", "k ohm", "k ohms"), written=("kohms", "kiloohm", "kiloohms"),
)  # fmt: skip
_MEGOHM = Unit(
    "Mohm", 1e6, "megohm", signs=("MΩ", "M\N{OHM SIGN}"), heard=("megohm", "megohms"),
    american=("meg", "megs", "meg ohm", "meg ohms"), written=("M", "Mohms", "megaohm", "megaohms"),
)  # fmt: skip
_MILLIOHM = Unit(
    "mohm", 1e-3, "milliohm", signs=("mΩ", "m\N{OHM SIGN}"), heard=("milliohm", "milliohms"), written=("m", "mohms")
)
_GIGOHM = Unit(
    "Gohm", 1e9, "gigohm", signs=("GΩ", "G\N{OHM SIGN}"), heard=("gigohm", "gigohms", "gig ohms"),
    american=("gig", "gigs"), written=("G", "Gohms", "gigaohm", "gigaohms"),
)  # fmt: skip


def _volts(*, of: str, heard: tuple[str, str]) -> Kind:
    """Volts of alternating or direct voltage: ``of`` may be said after the unit, in two ways."""

    def unit(symbol: str, factor: float, one: str, alone: tuple[str, ...] = (), american: tuple[str, ...] = ()) -> Unit:
        said = (one, f"{one}s")
        phrases = (*said, *(f"{name} {which}" for name in said for which in heard), *alone)
        written = tuple(f"{symbol}{mark}" for mark in ("", of, f" {of}"))
        return Unit(symbol, factor, one, heard=phrases, american=american, written=written)

    # "Two thirty ac" are volts.
    units = (
        unit("V", 1, "volt", heard),
        unit("mV", 1e-3, "millivolt", american=("mils",)),
        unit("kV", 1e3, "kilovolt"),
    )
    return Kind(units, bare="V")


ELECTRICAL: dict[str, Kind] = {
    "resistance": Kind(
        (_OHM, _KILOHM, _MEGOHM, _MILLIOHM, _GIGOHM),
        choices=("ohm", "kohm"),
        prefixed=("Gohm", "Mohm", "kohm", "ohm", "mohm"),
    ),
    # Whoever writes "mohm" of an insulation most likely means megohms, and is asked.
    "insulation_resistance": Kind(
        (_OHM, _KILOHM, _MEGOHM, _GIGOHM, Unit("milliohm", 1e-3, "milliohm")),
        choices=("Mohm", "kohm"),
        prefixed=("Gohm", "Mohm", "kohm", "ohm"),
        doubtful=dict.fromkeys(("m", "mohm", "mohms", "mω"), ("megohm", "milliohm")),
        measured_as="resistance",
    ),
    "voltage_ac": _volts(of="ac", heard=("ac", "a c")),
    "voltage_dc": _volts(of="dc", heard=("dc", "d c")),
    "current": Kind(
        (
            Unit("A", 1, "amp", heard=("amp", "amps", "ampere", "amperes")),
            Unit("mA", 1e-3, "milliamp", heard=("milliamp", "milliamps"), american=("mils",)),
            Unit("uA", 1e-6, "microamp", signs=("µA", "μA"), heard=("microamp", "microamps")),
        ),
        bare="A",
    ),
    "frequency": Kind(
        (
            Unit("Hz", 1, "hertz", "hertz", heard=("hertz",), american=("cycles",)),
            Unit("kHz", 1e3, "kilohertz", "kilohertz", heard=("kilohertz",)),
        ),
        bare="Hz",
    ),
    "capacitance": Kind(
        (
            Unit(
                "uF",
                1,
                "microfarad",
                signs=("µF", "μF"),
                heard=("microfarad", "microfarads"),
                american=("mics", "mfd", "m f d"),
                written=("mfd",),
            ),
            Unit("nF", 1e-3, "nanofarad", heard=("nanofarad", "nanofarads")),
            Unit("pF", 1e-6, "picofarad", heard=("picofarad", "picofarads"), printed=True),
            Unit("millifarad", 1e3, "millifarad"),
            Unit("F", 1e6, "farad"),
        ),
        bare="uF",
        # "MF" and "mf" stand for microfarad on American run capacitors, for millifarad elsewhere.
        doubtful={"mf": ("microfarad", "millifarad")},
    ),
    "apparent_power": Kind((Unit("VA", 1, "volt amp"), Unit("kVA", 1e3, "kilovolt amp")), choices=("VA", "kVA")),
    "reactive_power": Kind((Unit("var", 1, "var"), Unit("kvar", 1e3, "kilovar")), choices=("var", "kvar")),
    "resistance_per_length": Kind(
        (
            Unit("ohm/m", 1, "ohm per meter", "ohms per meter", ("Ω/m",)),
            Unit("ohm/km", 1e-3, "ohm per kilometer", "ohms per kilometer", ("Ω/km",)),
            Unit("ohm/kft", 1 / 304.8, "ohm per thousand feet", "ohms per thousand feet", ("Ω/kft",)),
        ),
        choices=("ohm/km", "ohm/kft"),
    ),
}  # fmt: skip
