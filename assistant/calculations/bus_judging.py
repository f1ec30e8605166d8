"""The rectified bus judged: live against what the line gives, and dead before hands go near it. Volts DC."""

from __future__ import annotations

from collections.abc import Sequence

from assistant.calculations.errors import UnknownName, within
from assistant.calculations.found import Found, Limit, certain, sided
from assistant.calculations.power_stage import bus_peak_v
from assistant.calculations.uncertainty import Metered, judged

#: How far a bus may be from the peak of its line, or from the voltage that its boost stage holds.
BAND_PERCENT = Limit(12.0)
#: A bus under this share of the peak is not there at all. Common practice, no source.
ABSENT_SHARE = 0.1
#: A line this low may feed a voltage doubler. Common practice, no source.
DOUBLED_BELOW_V = 140.0
#: What a boost stage holds at most where the profile does not say: single-phase lines, and three-phase ones.
BOOSTED_V, BOOSTED_THREE_PHASE_V = 430.0, 800.0
LIVE_SOURCE = (
    "from 12 % under the rectified peak to 12 % over it, doubled under 140 V; a boost stage of unknown make up to "
    "430 V (three-phase 800 V): common practice, no source"
)
#: Boards may be touched below this.
DEAD_BELOW_V = Limit(30.0, "IEC 60364-4-41, 414.4.5 (from memory): 30 V DC where the skin may be wet")

LIVE_OUTCOMES = ("ok", "low", "high", "absent", "resting")
CALLING = ("yes", "no")


def judge_bus(
    voltage: Metered,
    line: Metered | float,
    boosted_v: float | None = None,
    calling: str = "yes",
    band_percent: float = BAND_PERCENT,
) -> Found:
    """The live bus (V, up to 2000 by its size) against the peak of ``line`` (V RMS, 1 to 1000).

    ok, low, high, absent or resting.

    ``boosted_v``: what this unit's boost stage holds. Without it everything from a bare rectifier to a doubler or a
    usual boost stage is right. ``calling`` "no": the unit is not told to run; some then cut their bus off, so that a
    missing one says nothing ("resting"). Values: peak, low, high (V), stage (what the voltage looks like).
    Source: power_stage.RECTIFIER_SOURCE, LIVE_SOURCE.
    Takes ``voltage`` -2000 to 2000, ``boosted_v`` 1 to 2000, ``band_percent`` 0.1 to 50.
    """
    volts = within("line voltage", line.value if isinstance(line, Metered) else line, 1, 1000, "V")
    size = abs(within("bus voltage", voltage.value, -2000, 2000, "V"))
    within("bus band", band_percent, 0.1, 50, "%")
    if calling not in CALLING:
        raise UnknownName("call", calling, CALLING)
    peak, share = bus_peak_v(volts), band_percent / 100
    low, high = peak * (1 - share), _highest(volts, peak, share, boosted_v)
    values: dict[str, float | str | None] = {"peak": peak, "low": low, "high": high}
    if size < ABSENT_SHARE * peak:
        found = "absent" if calling == "yes" else "resting"
        return Found(certain(found, LIVE_OUTCOMES), ("ok",), ("resting",), values={**values, "stage": "none"})
    # The line's own reading blurs both limits by the same share.
    blur = peak * line.expanded / volts if isinstance(line, Metered) else 0.0
    against = judged(size, (voltage.expanded**2 + blur**2) ** 0.5, low, high)
    values["stage"] = _stage(size, volts, peak, share)
    return Found({**sided(against), "absent": 0.0, "resting": 0.0}, ("ok",), ("resting",), values, against)


def _highest(line_v: float, peak: float, share: float, boosted_v: float | None) -> float:
    if boosted_v is not None:
        return max(peak, within("boosted bus", boosted_v, 1, 2000, "V")) * (1 + share)
    boost = BOOSTED_V if line_v <= 300 else BOOSTED_THREE_PHASE_V
    doubled = 2 * peak if line_v < DOUBLED_BELOW_V else peak
    return max(doubled * (1 + share), boost)


def _stage(voltage: float, line_v: float, peak: float, share: float) -> str:
    """What a bus of this voltage looks like, for people."""
    if voltage <= peak * (1 + share):
        return "rectified"
    if line_v < DOUBLED_BELOW_V and abs(voltage - 2 * peak) <= 2 * peak * share:
        return "doubled"
    return "boosted"


def judge_absent(voltages: Sequence[Metered], limit_v: float, in_series: bool = False) -> Found:
    """No voltage only when every reading (or their sum, of capacitors in series) is under the limit beyond doubt.

    dead or present; ``limit_v`` 1 to 100 V. The size of each reading counts, with its uncertainty and all that a
    display jumps; no reading, or an open line where a voltage is looked for, is present too. Value: size (V).
    """
    within("limit of a dead conductor", limit_v, 1, 100, "V")
    outcomes = ("dead", "present")
    if not voltages or any(volts.open for volts in voltages):
        return Found(certain("present", outcomes), ("dead",), values={"size": None}, told="present")
    sizes = [abs(volts.value) for volts in voltages]
    widths = [volts.accuracy.expanded(volts.value) + volts.unsteady for volts in voltages]
    size, width = max(zip(sizes, widths, strict=True), key=sum)
    if in_series:
        size, width = sum(sizes), sum(widths)
    against = judged(size, width, None, limit_v)
    told = "dead" if against.verdict == "pass" else "present"
    return Found(sided(against, ("dead", "dead", "present")), ("dead",), (), {"size": size}, against, told=told)
