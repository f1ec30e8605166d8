"""What a profile's numbers must keep to beyond their types: figures that cannot be right would judge wrongly."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise

from assistant.calculations.power_stage import bus_peak_v
from assistant.library.bounds import USUAL
from assistant.library.finding import Finding, unknown
from assistant.library.models import Symptom
from assistant.library.profile import FanMotor, PressureSwitch, Thermistor, UnitProfile
from assistant.quantities.supplies import SUPPLIES


def of_profile(profile: UnitProfile) -> Iterator[Finding]:
    """Figures of one profile that contradict themselves."""
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
    yield from _supply(profile)
    zones = [zone.id for zone in profile.zones]
    if len(set(zones)) != len(zones):
        yield _wrong(profile, "two zones have the same id", "number them", ("zones",))


def _supply(profile: UnitProfile) -> Iterator[Finding]:
    """The nominal voltage belongs to the system, and a boosted bus stands above what rectifying alone gives."""
    low, high = SUPPLIES[profile.supply.system].plate_v
    if not low <= profile.supply.nominal_v <= high:
        what = f"supply: {profile.supply.nominal_v:g} volts is not a supply of {profile.supply.system}"
        yield _wrong(profile, what, "read the nameplate again", ("supply", "nominal_v"))
    bus = profile.bus
    if bus is not None and bus.boosted_v is not None and bus.boosted_v < bus_peak_v(profile.supply.nominal_v) - 1:
        what = f"bus: {bus.boosted_v:g} volts is less than the supply's own peak"
        yield _wrong(profile, what, "read it again, or leave it out when the bus is not boosted", ("bus", "boosted_v"))


def unusual(profile: UnitProfile) -> Iterator[Finding]:
    """Figures that are possible and rare: said back, for most of them are a slipped digit or a wrong unit."""
    for path, (low, high) in USUAL.items():
        part, field = path.split(".")
        value = getattr(getattr(profile, part), field, None)
        if value is not None and value != 0 and not low <= value <= high:
            what = f"{part}: {field} is {value:g}; usual is {low:g} to {high:g}"
            yield _wrong(profile, what, "leave it if the manual says so", (part, field))


def unknown_symptoms(profile: UnitProfile, symptoms: Mapping[str, Symptom]) -> Iterator[Finding]:
    """Indications that lead to no symptom there is."""
    for place, indication in enumerate(profile.indications):
        path = ("indications", place, "symptom")
        yield from unknown("profile", profile.id, (indication.symptom,), symptoms, "symptom", path)


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
