"""Faults of what is in the refrigerant circuit and of its pipes: leaks, charge, restrictions."""

from __future__ import annotations

from tests.field.faults.fault import BASIC, SOLO, Fault, Level

_LEVELS = (0.66, 0.5, 0.3, 0.03)


def _leak(place: str, says: str, physics: str, mend: str, marked: bool = True, **more: object) -> Fault:
    levels: list[Level] = []
    for charge in _LEVELS:
        level: dict[str, object] = {"refrigerant.charge": charge, "refrigerant.leak": place}
        if marked:
            level["refrigerant.oil_mark"] = True
        levels.append(level | {path.replace("__", "."): value for path, value in more.items()})
    return Fault(f"leak-{place}", says, physics, tuple(levels), (mend,))


FAULTS: tuple[Fault, ...] = (
    _leak(
        "indoor-joint",
        "the indoor flare leaks",
        "Oil and bubbles at the indoor joint; little gas left: low pressure, high superheat, hot discharge.",
        "mend-indoor-flare",
        lines__nuts="indoor",
    ),
    _leak(
        "indoor-flare-poor",
        "the indoor flare was badly made and leaks",
        "The nut is tight and the flare cracked or thin.",
        "mend-indoor-flare",
        lines__flare="poor",
    ),
    _leak(
        "outdoor-joint",
        "the outdoor flare leaks",
        "Oil and bubbles at the outdoor joint.",
        "mend-outdoor-flare",
        lines__nuts="outdoor",
    ),
    _leak(
        "service-valve",
        "the service valve's core leaks",
        "Bubbles under its cap.",
        "mend-service-valve",
    ),
    _leak(
        "indoor-coil",
        "the indoor coil leaks",
        "No joint is marked; the detector sounds at the pan.",
        "replace-indoor-coil",
        marked=False,
    ),
    _leak(
        "line",
        "the line set leaks in the wall",
        "Neither unit leaks; under nitrogen the pipes lose pressure.",
        "replace-line-set",
        marked=False,
    ),
    _leak(
        "outdoor-inside",
        "a pipe inside the outdoor unit leaks",
        "Rubbed or brazed through: oil inside the housing, none at the joints.",
        "mend-outdoor-pipe",
        marked=False,
    ),
    Fault(
        "overcharged",
        "there is too much refrigerant",
        "Liquid drowns the condenser: high pressure and high subcooling.",
        ({"refrigerant.charge": 1.35}, {"refrigerant.charge": 1.6}),
        ("weigh-charge",),
        season="cooling",
        history="after-work",
    ),
    Fault(
        "air-in-circuit",
        "air is in the circuit",
        "Its pressure adds to the refrigerant's: the gauge at rest is above saturation, the head is high.",
        ({"refrigerant.air_kpa": 450.0}, {"refrigerant.air_kpa": 900.0}),
        ("weigh-charge",),
        season="cooling",
        history="after-work",
    ),
    Fault(
        "moisture",
        "water is in the circuit and freezes in the valve",
        "Works after a rest and starves when the ice has formed.",
        ({"refrigerant.wet": True},),
        ("replace-drier", "weigh-charge"),
        history="after-work",
        sometimes=True,
    ),
    Fault(
        "wrong-refrigerant",
        "the wrong refrigerant was filled in",
        "Pressure at rest does not belong to the nameplate's refrigerant.",
        ({"refrigerant.fluid": "R134a"}, {"refrigerant.fluid": "R22"}),
        ("weigh-charge",),
        history="after-work",
    ),
    Fault(
        "strainer-blocked",
        "the strainer is partly blocked",
        "Liquid flashes behind it: colder behind than before, low suction, right subcooling.",
        ({"lines.strainer": 0.93}, {"lines.strainer": 0.975}),
        ("replace-drier",),
    ),
    Fault(
        "line-kinked",
        "a pipe is kinked",
        "A narrow place in the line: a drop of pressure and temperature across the bend.",
        ({"lines.kink": 0.985}, {"lines.kink": 1.15}),
        ("replace-line-set", "mend-kink"),
        history="never",
    ),
    Fault(
        "stems-not-open",
        "a service valve was not fully opened",
        "The circuit is throttled at the valve.",
        ({"lines.stems_open": 0.06}, {"lines.stems_open": 0.02}),
        ("open-stems",),
        history="after-work",
    ),
    Fault(
        "long-line-undercharged",
        "no charge was added for the long pipes",
        "The pipes hold what the coils lack.",
        (
            {"refrigerant.charge": 0.66, "lines.label": "not-noted"},
            {"refrigerant.charge": 0.58, "lines.label": "not-noted"},
        ),
        ("weigh-charge",),
        units=SOLO | BASIC,
        history="never",
        circumstances={"lines.length_m": 24.0},
    ),
    Fault(
        "pipes-too-long",
        "the pipes are longer than the unit allows",
        "Pressure lost along the gas line takes capacity.",
        ({"lines.length_m": 75.0, "lines.height_m": 20.0, "lines.rise_m": 14.0, "lines.trap": "missing"},),
        ("shorten-line",),
        units=SOLO | BASIC,
        history="never",
    ),
)
