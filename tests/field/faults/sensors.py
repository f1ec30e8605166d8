"""Faults of the temperature sensors: drift, break, seat, plug."""

from __future__ import annotations

from math import inf

from tests.field.faults.fault import ELECTRONIC_VALVE, Fault

_ROOM, _PIPE = "zone.sensors.room", "zone.sensors.pipe"
_OUT = "outdoor.sensors"


def _broken(name: str, at: str, what: str, sensor: str) -> Fault:
    return Fault(
        f"{name}-sensor-broken",
        f"the {what} sensor is open or shorted",
        "The board reads a value that no temperature gives.",
        ({f"{at}.broken": "open"}, {f"{at}.broken": "short"}),
        (f"replace-{sensor}-sensor",),
    )


FAULTS: tuple[Fault, ...] = (
    _broken("room", _ROOM, "room", "room"),
    _broken("pipe", _PIPE, "indoor pipe", "pipe"),
    _broken("outdoor", f"{_OUT}.outdoor", "outdoor air", "outdoor"),
    _broken("coil", f"{_OUT}.coil", "outdoor coil", "coil"),
    _broken("suction", f"{_OUT}.suction", "suction", "suction"),
    _broken("discharge", f"{_OUT}.discharge", "discharge", "discharge"),
    Fault(
        "room-sensor-drifted",
        "the room sensor has drifted",
        "It believes in another room temperature: it stops early or never.",
        ({f"{_ROOM}.factor": 0.72}, {f"{_ROOM}.factor": 1.4}),
        ("replace-room-sensor",),
    ),
    Fault(
        "pipe-sensor-drifted",
        "the indoor pipe sensor has drifted",
        "The freeze or overheat guard acts too soon.",
        ({f"{_PIPE}.factor": 1.8}, {f"{_PIPE}.factor": 0.4}),
        ("replace-pipe-sensor",),
    ),
    Fault(
        "pipe-sensor-out",
        "the indoor pipe sensor is out of its pocket",
        "It feels air: the cold-air guard keeps the fan slow in heating, the freeze guard is blind in cooling.",
        ({f"{_PIPE}.seat": "out"},),
        ("seat-pipe-sensor",),
        season="heating",
    ),
    Fault(
        "outdoor-sensor-drifted",
        "the outdoor air sensor has drifted far",
        "The control believes in weather in which it must not run.",
        ({f"{_OUT}.outdoor.factor": 0.16}, {f"{_OUT}.outdoor.factor": 0.1}),
        ("replace-outdoor-sensor",),
    ),
    Fault(
        "coil-sensor-drifted",
        "the outdoor coil sensor has drifted",
        "Reading warm it never defrosts, reading cold it defrosts all the time.",
        ({f"{_OUT}.coil.factor": 0.6}, {f"{_OUT}.coil.factor": 1.8}),
        ("replace-coil-sensor",),
        season="frost",
    ),
    Fault(
        "coil-sensor-out",
        "the outdoor coil sensor slipped out of its tube",
        "It feels the air and ends or omits the defrost.",
        ({f"{_OUT}.coil.seat": "out"},),
        ("seat-coil-sensor",),
        season="frost",
    ),
    Fault(
        "discharge-sensor-drifted",
        "the discharge sensor reads too hot",
        "The hot-gas guard stops a healthy compressor.",
        ({f"{_OUT}.discharge.factor": 0.2}, {f"{_OUT}.discharge.factor": 0.12}),
        ("replace-discharge-sensor",),
    ),
    Fault(
        "suction-sensor-drifted",
        "the suction sensor has drifted",
        "The valve is led by a wrong superheat: it floods or starves.",
        ({f"{_OUT}.suction.factor": 0.6}, {f"{_OUT}.suction.factor": 1.75}),
        ("replace-suction-sensor",),
        units=ELECTRONIC_VALVE,
    ),
    Fault(
        "pipe-sensor-plug",
        "the indoor sensors' plug is bad",
        "Green pins: the reading jumps or is lost now and then.",
        (
            {f"{_PIPE}.plug.flaky": 0.5, f"{_PIPE}.plug.state": "loose"},
            {f"{_PIPE}.plug.ohm": inf, f"{_PIPE}.plug.state": "burnt"},
        ),
        ("mend-indoor-sensor-plug",),
    ),
    Fault(
        "outdoor-sensor-plug",
        "an outdoor sensor's plug is bad",
        "Green pins in damp air.",
        (
            {f"{_OUT}.outdoor.plug.flaky": 0.5, f"{_OUT}.outdoor.plug.state": "loose"},
            {f"{_OUT}.outdoor.plug.ohm": inf, f"{_OUT}.outdoor.plug.state": "burnt"},
        ),
        ("mend-outdoor-sensor-plug",),
    ),
)
