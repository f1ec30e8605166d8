"""Judges of motors: windings between terminals and to ground, and DC fan motors by their wires."""

from __future__ import annotations

from dataclasses import replace

from assistant.calculations.entry import Result
from assistant.calculations.fan_motor import COMMAND_LOW_V
from assistant.calculations.found import Limit as Bound
from assistant.calculations.insulation import LEAST_OHM
from assistant.calculations.winding_judging import ALL_LOW_SHARE, IMBALANCE_PERCENT, PAIRS
from assistant.messages.message import Amount, Message, listed, message, percent
from assistant.reasoning.judgement import Judgement
from assistant.reasoning.judges.case import Case, Taken
from assistant.reasoning.judges.limits import beside, number
from assistant.reasoning.judges.registry import register
from assistant.reasoning.judges.values import Known, Measured, accuracy_of

_NAMES = {"ok": "balanced", "off-value": "balanced", "unbalanced": "unequal", "grounded": "shorted"}
#: The meter that each answer to "which meter" means.
_METERS = {"low-ohm": "low-ohm-meter", "multimeter": "multimeter-ohm"}


@register(
    "windings",
    inputs={"resistances": "readings"},
    may={"meter": "choice"},
    limits={"imbalance_percent": "percent", "resistance": "resistance"},
    outcomes=("balanced", "unequal", "open", "shorted"),
)
def windings(case: Case) -> Judgement:
    """Three terminal pairs against each other and, where the profile says it, against half of their value.

    ``meter`` tells which one was used: windings of an ohm need a low-ohm meter.
    """
    pairs = tuple(_by_meter(case, pair) for pair in case.readings("resistances"))
    due = case.limit("resistance", "resistance")
    if len(pairs) != 3 or any(not pair.there for pair in pairs):
        return case.missing_reading("three-pairs")
    limit = case.limit_or("imbalance_percent", "percent", IMBALANCE_PERCENT)
    taken: dict[str, Taken] = dict(zip(("u_v", "v_w", "w_u"), pairs, strict=True))
    result = case.run("windings", {**taken, "limit": limit, "expected": due, "tolerance": WIDE_PERCENT})
    says = _says(result, pairs, limit, due)
    return case.ran(result, says, _NAMES, (limit,), "percent", _finer_meter(result, pairs))


#: What the mean may be off the profile's value in a visit.
WIDE_PERCENT = Bound(50.0, "common practice, no source: the temperature of the winding is not asked")


def _by_meter(case: Case, pair: Measured) -> Measured:
    """The reading with the accuracy of the meter that was really used."""
    meter = _METERS.get(case.choice("meter") or "")
    if meter is None or meter not in case.shelf.instruments:
        return pair
    return replace(pair, accuracy=accuracy_of(case.shelf.instruments[meter], pair.quantity), meter=meter)


def _finer_meter(result: Result, pairs: tuple[Measured, ...]) -> Message | None:
    """What a meter would have to be good to where this one could pass no winding."""
    if result.found is None or not result.found.unfit:
        return None
    mean, enough = (number(result.found.values[name]) for name in ("mean", "fine_enough"))
    now = max(pair.metered.apart for pair in pairs)
    sizes = {name: float(f"{size:.2g}") for name, size in (("now", now), ("enough", enough))}
    return message("take-a-low-ohm-meter", mean=_ohms(mean), now=_ohms(sizes["now"]), enough=_ohms(sizes["enough"]))


def _ohms(value: float) -> Amount:
    return Amount(quantity="resistance", value=value, unit="ohm")


def _says(result: Result, pairs: tuple[Measured, ...], limit: Known, due: Known | None) -> Message:
    found, imbalance = result.found, result.answer("imbalance")
    if found is None:
        raise ValueError("windings judges nothing")
    if found.unfit:
        return message("meter-too-coarse", reading=pairs[0].amount())
    if imbalance is None:
        odd = [pair for pair, name in zip(pairs, PAIRS, strict=True) if name in found.places]
        if odd:
            return message("pairs-read", places=listed([pair.at for pair in odd]), outcome=found.outcome)
        return message("winding-reads", terminals=" and ".join(found.places), outcome=found.outcome)
    if found.outcome == "shorted" and due is not None:
        return message("all-pairs-low", share=percent(100 * ALL_LOW_SHARE), due=due.amount())
    off = percent(number(imbalance))
    if found.outcome == "unbalanced":
        mean = sum(pair.number for pair in pairs) / 3
        odd_one = max(pairs, key=lambda pair: abs(pair.number - mean))
        return message(
            "pair-unequal",
            place=odd_one.at,
            reading=odd_one.amount(),
            off=off,
            side="above" if odd_one.number > mean else "below",
            limit=limit.amount(),
        )
    return message("pairs-balanced", off=off, limit=limit.amount())


@register(
    "to-ground",
    inputs={"resistance": "reading"},
    may={"shell": "choice", "temperature": "reading"},
    limits={"low": "resistance"},
    outcomes=("low", "ok", "repeat-warm"),
    folds={"repeat-warm": "low"},
)
def to_ground(case: Case) -> Judgement:
    """Insulation to ground; an open line is the best there is.

    ``shell`` (warm, cold): liquid refrigerant on a cold winding reads low, so a cold compressor is measured again warm.
    """
    reading = case.reading("resistance")
    if reading is None or not reading.there:
        return case.missing_reading()
    low = case.limit_or("low", "resistance", LEAST_OHM)
    shell = case.choice("shell")
    values: dict[str, Taken] = {"measured": reading, "least": low, "temperature": case.reading("temperature")}
    result = case.run("insulation", {**values, "shell": shell if shell in ("warm", "cold") else "warm"})
    found = result.found
    if found is None or found.against is None:
        return case.ran(result, message("ground-open"))
    says = message("judged-reading", reading=reading.amount(), beside=beside(found.against, low, None, reading.shown))
    judgement = case.ran(result, says, limits=(low,), quantity="resistance")
    if judgement.outcome != "repeat-warm":
        return judgement
    says = message("cold-compressor", reading=reading.amount())
    return judgement.model_copy(update={"says": says, "better": message("warm-the-shell")})


def _fan_data(case: Case) -> tuple[dict[str, Taken], bool]:
    """What the profile's fan motor should have, and whether these are general values. Empty without data."""
    profile, fan = case.profile, case.option("fan")
    motor = profile.indoor_fan if profile and fan == "indoor" else profile.outdoor_fan if profile and fan else None
    if profile is None or motor is None:
        return {}, True
    source = f"{profile.make} {profile.model}: {profile.source}"
    low = Known(motor.control_span_v[0], "voltage_dc", source, profile.general)
    supply = Known(motor.supply_v, "voltage_dc", source, profile.general)
    return {"expected_supply": supply, "command_low": low}, profile.general


@register(
    "fan-motor",
    inputs={"supply": "reading", "turning": "choice"},
    may={"control": "reading"},
    limits={"supply": "same", "control_low": "same"},
    options=("fan",),
    outcomes=("no-supply", "unknown-supply", "no-command", "not-turning", "ok"),
    folds={"unknown-supply": "no-supply"},
)
def fan_motor(case: Case) -> Judgement:
    """A fan told to run: supply first, then the command, then whether it turns; the first that fails names it.

    Option ``fan`` (indoor, outdoor) takes supply and command from the profile where it has them. Without them the
    supply is judged against the rectified line, and one between nothing and that is not condemned: motors of low
    voltage exist.
    """
    supply, control, turning = case.reading("supply"), case.reading("control"), case.choice("turning")
    if supply is None or not supply.there or turning not in ("yes", "no"):
        return case.missing_reading("voltage")
    own, general = _fan_data(case)
    low = case.limit_or("control_low", "voltage_dc", COMMAND_LOW_V)
    expected = case.limit("supply", "voltage_dc")
    line = case.profile.supply.nominal_v if case.profile else None
    values: dict[str, Taken] = {"expected_supply": expected, "command_low": low, "line": line, **own}
    values |= {"supply": supply, "command": control, "turning": turning}
    result = case.run("fan-motor", values)
    outcome = str(result.answer("outcome"))
    if control is None:
        says = message("fan-motor", supply=supply.amount(), outcome=outcome)
    else:
        says = message("fan-motor-command", supply=supply.amount(), command=control.amount(), outcome=outcome)
    used = [v for v in values.values() if isinstance(v, Known)] if general else []
    judgement = case.ran(result, says, limits=used)
    better = message("read-the-label" if judgement.outcome == "unknown-supply" else "measure-at-the-plug")
    return judgement.model_copy(update={"better": better if judgement.verdict == "undecided" else ""})
