"""What a profile's numbers must keep to beyond their types: figures that cannot be right would judge wrongly."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from assistant.library.loader import Library
from assistant.library.profile import FanMotor, PressureSwitch, Thermistor, UnitProfile
from assistant.library.rules.finding import Finding


def sound_profiles(library: Library) -> Iterator[Finding]:
    """Profiles whose figures contradict themselves."""
    for profile in library.profiles.values():
        yield from of_profile(profile)


def of_profile(profile: UnitProfile) -> Iterator[Finding]:
    """The same for one profile."""
    for name, sensor in profile.sensors.items():
        problem = _sensor(sensor)
        if problem:
            yield _wrong(profile, f"sensor {name}: {problem}", "read the manual's table again", ("sensors", name))
    for name, fan in (("indoor_fan", profile.indoor_fan), ("outdoor_fan", profile.outdoor_fan)):
        if fan is not None and not _rising(fan):
            yield _wrong(profile, f"{name}: the lowest is above the highest", "put the lower number first", (name,))
    for name, switch, opens_above in (
        ("high_pressure_switch", profile.high_pressure_switch, True),
        ("low_pressure_switch", profile.low_pressure_switch, False),
    ):
        if switch is not None and not _switches(switch, opens_above):
            way = "above" if opens_above else "below"
            what = f"{name}: it must open {way} the pressure at which it closes"
            yield _wrong(profile, what, "change the two pressures round", (name,))
    signal = profile.signal
    if signal is not None and not signal.low_v < signal.high_v:
        what = "signal: the lower voltage is not below the higher one"
        yield _wrong(profile, what, "change the two voltages round", ("signal",))
    if signal is not None and not set(signal.pair) <= set(signal.terminals):
        yield _wrong(profile, "signal: the pair names a terminal that is not listed", "list it", ("signal", "pair"))
    zones = [zone.id for zone in profile.zones]
    if len(set(zones)) != len(zones):
        yield _wrong(profile, "two zones have the same id", "number them", ("zones",))


def _wrong(profile: UnitProfile, what: str, remedy: str, path: tuple[str | int, ...]) -> Finding:
    return Finding("profile", profile.id, what, remedy, path)


def _sensor(sensor: Thermistor) -> str:
    if sensor.table:
        if len(sensor.table) < 2 and sensor.beta_k is None:
            return "one point makes no curve"
        rows = sorted(sensor.table)
        if any(warm[1] >= cold[1] for cold, warm in pairwise(rows)):
            return "its ohms do not fall as it gets warmer"
        return ""
    if sensor.r25_ohm is None or sensor.beta_k is None:
        return "it needs a table, or ohms at 25 °C with Beta"
    return ""


def _rising(fan: FanMotor) -> bool:
    return fan.control_span_v[0] < fan.control_span_v[1] and fan.speed_rpm[0] < fan.speed_rpm[1]


def _switches(switch: PressureSwitch, opens_above: bool) -> bool:
    return switch.opens_kpa > switch.closes_kpa if opens_above else switch.opens_kpa < switch.closes_kpa
