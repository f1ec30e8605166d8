"""Judges of motors: windings between terminals and to ground, and DC fan motors by their wires."""

from __future__ import annotations

from dataclasses import replace

from assistant.calculations.fan_motor import SUPPLY_TOLERANCE_PERCENT
from assistant.calculations.power_stage import RECTIFIER_SOURCE, bus_peak_v
from assistant.calculations.uncertainty import GUM, judged
from assistant.calculations.winding_judging import THRESHOLD_SOURCE, WindingJudgement, judge_windings
from assistant.calculations.windings import IMBALANCE_SOURCE
from assistant.reasoning.judgement import Judgement
from assistant.reasoning.judges.case import Case, sum_of
from assistant.reasoning.judges.limits import against, settling
from assistant.reasoning.judges.registry import register
from assistant.reasoning.judges.values import Known, Measured, plain

#: All pairs under this share of the profile's value: turns are shorted together. Common practice, no source.
SHORTED_SHARE = 0.5
#: Share of the supply's peak under which a DC fan motor lacks its supply. Common practice, no source.
RECTIFIED_SHARE = 0.77
_NAMES = {
    "ok": "balanced",
    "off-value": "balanced",
    "unbalanced": "unequal",
    "open": "open",
    "shorted": "shorted",
    "grounded": "shorted",
}


@register(
    "windings",
    inputs={"resistances": "readings"},
    limits={"imbalance_percent": "percent", "resistance": "resistance"},
    one_of=(("imbalance_percent",),),
    outcomes=("balanced", "unequal", "open", "shorted"),
)
def windings(case: Case) -> Judgement:
    """Three terminal pairs against each other and, where the profile says it, against half of their value."""
    pairs = case.readings("resistances")
    limit, due = case.limit("imbalance_percent", "percent"), case.limit("resistance", "resistance")
    if len(pairs) != 3 or any(pair.value is None and not pair.open for pair in pairs):
        return case.missing_reading("three pairs")
    if limit is None:
        return case.missing_limit("the imbalance")
    first, second, third = (None if pair.open else pair.value for pair in pairs)
    found = judge_windings(
        first, second, third, meter=pairs[0].accuracy, imbalance_limit_percent=limit.value, expected_ohm=None
    )
    chances: dict[str, float] = {}
    for name, chance in found.chances:
        chances[_NAMES[name]] = chances.get(_NAMES[name], 0.0) + chance
    low = _all_low(pairs, due)
    chances = {name: chance * (1 - low) for name, chance in chances.items()}
    chances["shorted"] = chances.get("shorted", 0.0) + low
    says = (
        _says(found, pairs, limit)
        if low <= 0.5 or due is None
        else f"All pairs read under half of {due.spoken()}: shorted."
    )
    working = sum_of(
        "100 · max |R - mean| / mean",
        ", ".join(f"{pair.place or 'pair'} {pair.spoken()}" for pair in pairs),
        "no imbalance to compute"
        if found.imbalance_percent is None
        else f"{plain(found.imbalance_percent)} percent, limit {plain(limit.value)} percent",
        f"{IMBALANCE_SOURCE}; limit: {limit.source}; {THRESHOLD_SOURCE}",
    )
    better = settling(found.against_imbalance, "percent") if found.against_imbalance else ""
    return case.judged(chances, says, [working], better, (limit,))


def _all_low(pairs: tuple[Measured, ...], due: Known | None) -> float:
    """Chance that every pair is under half of what it should be."""
    if due is None or any(pair.open for pair in pairs):
        return 0.0
    highest = max(pairs, key=lambda pair: pair.number)
    return judged(highest.number, highest.expanded, SHORTED_SHARE * due.value).chance_below


def _says(found: WindingJudgement, pairs: tuple[Measured, ...], limit: Known) -> str:
    if found.imbalance_percent is None:
        odd = [pair for pair, name in zip(pairs, ("u-v", "v-w", "w-u"), strict=True) if name in found.places]
        named = ", ".join(pair.place for pair in odd) or f"the winding at {' and '.join(found.places)}"
        shown = "open" if found.outcome == "open" else "nearly nothing"
        return f"{named[:1].upper()}{named[1:]} reads {shown}: {found.outcome}."
    if found.outcome == "unbalanced":
        mean = sum(pair.number for pair in pairs) / 3
        odd_one = max(pairs, key=lambda pair: abs(pair.number - mean))
        side = "above" if odd_one.number > mean else "below"
        return (
            f"{odd_one.place[:1].upper()}{odd_one.place[1:]} is {odd_one.spoken()}, "
            f"{plain(found.imbalance_percent)} percent {side} the mean; limit {plain(limit.value)}: unequal."
        )
    percent = plain(found.imbalance_percent)
    return f"The three pairs differ {percent} percent from their mean, limit {plain(limit.value)}: balanced."


@register(
    "to-ground",
    inputs={"resistance": "reading"},
    limits={"low": "resistance"},
    one_of=(("low",),),
    outcomes=("low", "ok"),
)
def to_ground(case: Case) -> Judgement:
    """Insulation to ground; an open line is the best there is."""
    reading = case.reading("resistance")
    if reading is None:
        return case.missing_reading()
    if reading.open:
        return case.judged({"ok": 1.0}, "An open line to ground: the insulation is good.")
    low = case.limit("low", "resistance")
    if low is None:
        return case.missing_limit("the insulation")
    return against(case, reading, low, None, formula="resistance to ground ≥ low")


def _due(case: Case, name: str, reading: Measured) -> Known | None:
    """Least supply or command: of the profile's fan motor where it has one, else the check's own limit.

    A DC fan lives on the rectified supply, so on a low one (115 V) no more than ``RECTIFIED_SHARE`` of that is asked.
    """
    profile, fan = case.profile, case.option("fan")
    motor = profile.indoor_fan if profile and fan == "indoor" else profile.outdoor_fan if profile and fan else None
    if motor is None or profile is None:
        limit = case.limit(name, reading.quantity)
        rectified = RECTIFIED_SHARE * bus_peak_v(profile.supply.nominal_v) if profile else None
        if limit is None or rectified is None or name != "supply_low" or rectified >= limit.value:
            return limit
        return replace(limit, value=rectified, source=f"{limit.source}; of the supply, {RECTIFIER_SOURCE}")
    share = 1 - SUPPLY_TOLERANCE_PERCENT / 100
    volts = motor.supply_v * share if name == "supply_low" else motor.control_span_v[0]
    return Known(volts, reading.quantity, f"{profile.make} {profile.model}: {profile.source}", profile.general)


@register(
    "fan-motor",
    inputs={"supply": "reading", "turning": "choice"},
    may={"control": "reading"},
    limits={"supply_low": "same", "control_low": "same"},
    options=("fan",),
    outcomes=("no-supply", "no-command", "not-turning", "ok"),
)
def fan_motor(case: Case) -> Judgement:
    """A fan told to run: supply first, then the command, then whether it turns; the first that fails names it.

    Option ``fan`` (indoor, outdoor) takes supply and command from the profile where it has them.
    """
    supply, control, turning = case.reading("supply"), case.reading("control"), case.choice("turning")
    limits = {"supply_low": supply, "control_low": control}
    missing, parts, sources = 1.0, [], []
    chances: dict[str, float] = {}
    used: list[Known | None] = []
    for (name, reading), outcome in zip(limits.items(), ("no-supply", "no-command"), strict=True):
        if reading is None:
            continue
        limit = _due(case, name, reading)
        if limit is None or (reading.value is None and not reading.open):
            return case.missing_limit("the motor's supply") if limit is None else case.missing_reading()
        value = reading.value or 0.0
        chance = judged(abs(value), reading.expanded, limit.value).chance_below
        chances[outcome] = missing * chance
        missing *= 1 - chance
        parts.append(
            f"{reading.spoken(value)} {'is missing its' if chance > 0.5 else 'meets its'} {limit.spoken(reading.shown)}"
        )
        sources.append(limit.source)
        used.append(limit)
    if turning not in ("yes", "no"):
        return case.missing_reading("look at the fan")
    chances["ok" if turning == "yes" else "not-turning"] = missing
    likely = max(chances, key=lambda key: chances[key])
    says = {
        "no-supply": "The motor lacks its supply",
        "no-command": "The supply is there but no command",
        "not-turning": "Supply and command are there and it does not turn",
        "ok": "It has its supply and turns",
    }[likely]
    numbers = " and ".join(reading.spoken() for reading in limits.values() if reading)
    working = sum_of("supply ≥ low, command ≥ low, turning", "; ".join(parts), likely, f"{'; '.join(sources)}; {GUM}")
    return case.judged(chances, f"{numbers}. {says}.", [working], "Measure at the motor's plug again.", used)
