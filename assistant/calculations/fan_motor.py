"""DC fan motors with their electronics inside: five wires (supply, ground, control supply, command, feedback).

Voltages in V against the motor's ground, pulses in Hz, speed in rpm.
"""

from __future__ import annotations

from assistant.calculations.errors import Inconsistent, within
from assistant.calculations.found import Found, Limit
from assistant.calculations.power_stage import bus_peak_v
from assistant.calculations.uncertainty import Metered, judged

#: Band of the supply and control voltages around the profile's value.
SUPPLY_TOLERANCE_PERCENT = Limit(15.0)
#: A motor on the rectified supply has at least this share of its peak.
RECTIFIED_SHARE = 0.77
#: Under this nothing is there; between it and the rectified supply a low-voltage motor may be in order. No motor of
#: these units runs on less than 12 V.
NOTHING_V = 10.0
#: Least speed command that asks for anything, where the profile has none.
COMMAND_LOW_V = Limit(1.5, general=True)
ORDER_SOURCE = "supply, control, command, then feedback: common practice, no source; values from the unit profile"
SUPPLY_SOURCE = (
    "without the motor's own value: 77 % of the rectified line, or a low-voltage motor from 10 V: "
    "common practice, no source"
)

OUTCOMES = (
    "ok",
    "no-supply",
    "unknown-supply",
    "no-control",
    "no-command",
    "not-turning",
    "no-feedback",
    "off-speed",
)


def speed_rpm(pulses_hz: float, pulses_per_turn: int) -> float:
    """Speed from the feedback: 60·f/pulses a turn. f 0 to 100 kHz, 1 to 1000 pulses. Definition.

    Takes ``pulses_hz`` 0 to 1e5.
    """
    within("feedback pulses", pulses_hz, 0, 1e5, "Hz")
    within("pulses per turn", pulses_per_turn, 1, 1000, "1")
    return 60 * pulses_hz / pulses_per_turn


def feedback_hz(rpm: float, pulses_per_turn: int) -> float:
    """Feedback frequency at ``rpm`` (0 to 100 000): n·pulses/60. Definition.

    Takes ``pulses_per_turn`` 1 to 1000.
    """
    within("speed", rpm, 0, 1e5, "rpm")
    within("pulses per turn", pulses_per_turn, 1, 1000, "1")
    return rpm * pulses_per_turn / 60


def fan_laws(speed_ratio: float, density_ratio: float = 1.0) -> tuple[float, float, float]:
    """(airflow, pressure, power) ratios: n, n²·ρ, n³·ρ; both ratios 0.01 to 10.

    Source: fan laws as in AMCA 201 and ISO 5801 (titles from memory), same fan and system.
    """
    within("speed ratio", speed_ratio, 0.01, 10, "1")
    within("density ratio", density_ratio, 0.01, 10, "1")
    return speed_ratio, speed_ratio**2 * density_ratio, speed_ratio**3 * density_ratio


def judge_fan_motor(
    supply: Metered | None,
    turning: bool,
    *,
    control: Metered | None = None,
    command: Metered | None = None,
    pulses: Metered | None = None,
    expected_supply_v: float | None = None,
    line_v: float | None = None,
    expected_control_v: float | None = None,
    command_low_v: float = COMMAND_LOW_V,
    command_high_v: float | None = None,
    pulses_per_turn: int | None = None,
    speed_low_rpm: float | None = None,
    speed_high_rpm: float | None = None,
) -> Found:
    """Judge a fan told to run, voltages in V (0 to 1000) against the motor's ground, pulses in Hz.

    The first wire that fails names the fault, since each depends on those before it: supply, control supply, speed
    command, then whether it turns, then feedback; wires that were not measured are passed over. The supply is judged
    against ``expected_supply_v`` ± 15 % (only too little is a fault); without it against the rectified ``line_v``, and
    what lies between nothing and that is "unknown-supply": a low-voltage motor may be in order. Value: speed (rpm).
    Raises OutOfRange, and Inconsistent for pulses without turning or a span upside down.
    """
    if pulses is not None and pulses.value > 0 and not turning:
        raise Inconsistent(f"The feedback shows {pulses.value:.4g} Hz but the fan does not turn; look again at both.")
    shares = dict.fromkeys(OUTCOMES, 0.0)
    rest = 1.0
    if supply is not None:
        missing, unknown = _supply(_volts("supply", supply), expected_supply_v, line_v)
        shares["no-supply"], shares["unknown-supply"] = missing, unknown
        rest = 1 - missing - unknown
    rail = None if control is None else _volts("control", control)
    if rail is not None and expected_control_v is not None:
        within("expected control voltage", expected_control_v, 1, 1000, "V")
        inside = _within_band(rail, expected_control_v)
        shares["no-control"], rest = rest * (1 - inside), rest * inside
    if command is not None:
        volts = _volts("command", command)
        inside = judged(volts.value, volts.expanded, command_low_v, command_high_v).chance_inside
        shares["no-command"], rest = rest * (1 - inside), rest * inside
    speed = None
    if pulses is not None and pulses_per_turn is not None:
        speed = speed_rpm(pulses.value, pulses_per_turn)
    running = _running(turning, pulses, pulses_per_turn, speed_low_rpm, speed_high_rpm)
    for outcome, share in running.items():
        shares[outcome] = rest * share
    return Found(shares, ("ok",), ("unknown-supply",), values={"speed": speed})


def _volts(name: str, reading: Metered) -> Metered:
    """The size of a voltage."""
    value = within(f"fan motor {name} voltage", abs(reading.value), 0, 1000, "V")
    return Metered(value, reading.accuracy, reading.meter, reading.unsteady)


def _supply(volts: Metered, expected_v: float | None, line_v: float | None) -> tuple[float, float]:
    """Chances that the supply is missing, and that it cannot be told."""
    if expected_v is not None:
        within("expected supply voltage", expected_v, 1, 1000, "V")
        low = expected_v * (1 - SUPPLY_TOLERANCE_PERCENT / 100)
        return judged(volts.value, volts.expanded, low, None).chance_below, 0.0
    nothing = judged(volts.value, volts.expanded, NOTHING_V, None).chance_below
    if line_v is None:
        return nothing, 1 - nothing
    rectified = RECTIFIED_SHARE * bus_peak_v(line_v)
    return nothing, judged(volts.value, volts.expanded, max(rectified, NOTHING_V), None).chance_below - nothing


def _within_band(volts: Metered, expected_v: float) -> float:
    share = SUPPLY_TOLERANCE_PERCENT / 100
    return judged(volts.value, volts.expanded, expected_v * (1 - share), expected_v * (1 + share)).chance_inside


def _running(
    turning: bool, pulses: Metered | None, per_turn: int | None, low_rpm: float | None, high_rpm: float | None
) -> dict[str, float]:
    if not turning:
        return {"not-turning": 1.0}
    if pulses is None or per_turn is None:
        return {"ok": 1.0}
    if pulses.value <= 0:
        return {"no-feedback": 1.0}
    if low_rpm is None and high_rpm is None:
        return {"ok": 1.0}
    speed, width = speed_rpm(pulses.value, per_turn), speed_rpm(pulses.expanded, per_turn)
    inside = judged(speed, width, low_rpm, high_rpm).chance_inside
    return {"ok": inside, "off-speed": 1 - inside}
