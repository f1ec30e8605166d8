"""Which pictures a record has, as data: sensors on their curves, bars against limits, the cycle, weights, before and
after. What is drawn and what stands in the table behind it are the same numbers, those of the answers."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from assistant.dialogue.units import unit_of
from assistant.library.loader import Library
from assistant.reasoning.judgement import Bound
from assistant.record.believed import MOST
from assistant.record.course import Course
from assistant.record.cycle import cycle_of
from assistant.record.drawn import Bar, Line, Mark, Picture, WeightStep
from assistant.record.limits import limit
from assistant.record.model import AnswerLine, CheckLine, Pair
from assistant.record.sensors import sensor_of
from assistant.record.wording import quantity, sentence

#: Judges whose readings are like things side by side.
_BARS = {
    "windings": "The three windings should be alike.",
    "diode-bridge": "Every arm should be alike, and none near nothing.",
    "supply": "Every leg should lie between the limits.",
    "compare": "Both should be alike.",
    "sensor-sweep": "None should be open or shorted.",
    "continuity": "Each should be near nothing.",
}


def of(
    course: Course,
    library: Library,
    answers: Sequence[AnswerLine],
    checks: Sequence[CheckLine],
    weights: Sequence[WeightStep],
    pairs: Sequence[Pair],
) -> Iterable[Picture]:
    """Every picture that the visit gives, in the order in which a reader wants them."""
    profile = unit_of(course.state, library)
    standing = [check for check in checks if check.standing]
    counting = {line.number: line for line in answers if line.status == "counts"}
    yield from before_after(pairs)
    cycle = cycle_of(profile, standing, counting, library)
    if cycle is not None:
        yield cycle
    for check in _drawn(standing):
        given = [counting[number] for number in check.answers if number in counting]
        judge = library.checks[check.id].judge if check.id in library.checks else None
        if judge is None:
            continue
        if judge.by == "thermistor":
            sensor = sensor_of(check, given, str(judge.options.get("sensor", "")), judge.inputs, profile)
            if sensor is not None:
                yield sensor
        elif judge.by in _BARS:
            yield from bars(check, given, judge.by)
    if len(weights) > 1:
        yield suspects(weights)


def _drawn(checks: Sequence[CheckLine]) -> list[CheckLine]:
    """Of a check that was made several times, the last before and the last after each repair."""
    last = {(check.id, check.repairs): check for check in checks}
    return [check for check in checks if last[check.id, check.repairs] is check]


def bars(check: CheckLine, given: Sequence[AnswerLine], judge: str) -> Iterable[Picture]:
    """Readings of several places beside each other, each against the same limits."""
    readings = [line for line in given if line.inside is not None]
    quantities = {line.quantity for line in readings}
    if len(quantities) != 1 or (len(readings) < 2 and judge != "supply"):
        return
    unit = readings[0].unit or readings[0].inside_unit
    same = [bound for bound in check.bounds if bound.quantity in quantities]
    low, high = limit(same, "low"), limit(same, "high")
    factor = _factor(readings)
    kind = readings[0].quantity
    shown = [Bar(name=_name(line, readings) or check.title, value=(line.inside or 0.0) / factor) for line in readings]
    ends = (low.value / factor if low else None, high.value / factor if high else None)
    if judge == "windings":
        ends = _about_the_mean([bar.value for bar in shown], check.bounds)
    shown = [
        bar.model_copy(update={"low": ends[0], "high": ends[1], "good": _inside(bar.value, *ends)}) for bar in shown
    ]
    limits = [
        f"{name} {quantity(float(f'{end:.4g}'), unit)}"
        for name, end in zip(("from", "to"), ends, strict=True)
        if end is not None
    ]
    yield Picture(
        id=f"bars-{check.id}-{check.answers[0]}",
        kind="bars",
        title=check.title,
        says=f"{_BARS[judge]} {check.says}",
        x_label=f"{kind.replace('_', ' ')}, {quantity_sign(unit)}",
        bars=tuple(shown),
        columns=("Where", "Read", "Limits"),
        rows=tuple((_name(line, readings) or check.title, line.said, " ".join(limits) or "alike") for line in readings),
        source="; ".join(dict.fromkeys(bound.source for bound in check.bounds)),
    )


def _about_the_mean(values: Sequence[float], bounds: Sequence[Bound]) -> tuple[float | None, float | None]:
    """The band in which like parts count as alike: so many percent about their mean."""
    percent = next((bound.value for bound in bounds if bound.name == "imbalance_percent"), None)
    if percent is None:
        return None, None
    mean = sum(values) / len(values)
    return mean * (1 - percent / 100), mean * (1 + percent / 100)


def _name(line: AnswerLine, readings: Sequence[AnswerLine]) -> str:
    """The place; with the question's own word where two questions have the same places (upper U, lower U)."""
    if sum(other.place == line.place for other in readings) == 1 or not line.place:
        return line.place
    return f"{line.question.rpartition('.')[2]} {line.place}".replace("-", " ")


def _factor(readings: Sequence[AnswerLine]) -> float:
    """Inside units in one of the unit spoken, where they are proportional."""
    for line in readings:
        if line.value and line.inside:
            return line.inside / line.value
    return 1.0


def _inside(value: float, low: float | None, high: float | None) -> bool | None:
    if low is None and high is None:
        return None
    return (low is None or value >= low) and (high is None or value <= high)


def quantity_sign(unit: str) -> str:
    """The sign of a unit alone."""
    return quantity(1, unit).removeprefix("1").strip()


def before_after(pairs: Sequence[Pair]) -> Iterable[Picture]:
    """Numbers measured before and after the repair, each pair in its own unit."""
    numbers = [pair for pair in pairs if pair.before_value is not None and pair.after_value is not None]
    for unit in dict.fromkeys(pair.unit for pair in numbers):
        mine = [pair for pair in numbers if pair.unit == unit]
        yield Picture(
            id=f"pairs-{mine[0].quantity or 'number'}-{len(mine)}",
            kind="pairs",
            title="Before and after the repair",
            says=f"The lower bar of each pair is after the repair: {mine[0].what.lower()} went from {mine[0].before} "
            f"to {mine[0].after}.",
            x_label=f"{mine[0].quantity.replace('_', ' ')}, {quantity_sign(unit)}",
            bars=tuple(
                Bar(
                    name=pair.what,
                    value=pair.after_value or 0.0,
                    beside=pair.before_value,
                    good={"pass": True, "fail": False}.get(pair.after_verdict),
                )
                for pair in mine
            ),
            columns=("What", "Before", "After"),
            rows=tuple((pair.what, pair.before, pair.after) for pair in mine),
        )


def suspects(weights: Sequence[WeightStep]) -> Picture:
    """How the weights of the suspects moved from check to check; those that ever mattered."""
    best: dict[str, float] = {}
    names: dict[str, str] = {}
    for step in weights:
        for weight in step.weights:
            best[weight.suspect] = max(best.get(weight.suspect, 0.0), weight.share)
            names[weight.suspect] = weight.name
    shown = sorted(best, key=lambda suspect: -best[suspect])[: MOST - 1]
    shares = {
        suspect: tuple(
            100 * next((weight.share for weight in step.weights if weight.suspect == suspect), 0.0) for step in weights
        )
        for suspect in shown
    }
    ticks = tuple(f"{place}. {step.check}" if step.check else "at the start" for place, step in enumerate(weights))
    first = shown[0]
    top = max(shares[first])
    after = ticks[shares[first].index(top)]
    rose = f", rose to {top:.0f} percent after check {after}" if weights[shares[first].index(top)].check else ""
    return Picture(
        id="weights",
        kind="weights",
        title="What was suspected, check by check",
        says=sentence(f"{names[first]}: {shares[first][0]:.0f} percent at the start{rose}, the most of all"),
        y_label="share, %",
        lines=tuple(
            Line(name=names[suspect], role="path", x=tuple(map(float, range(len(weights)))), y=shares[suspect])
            for suspect in shown
        ),
        x_ticks=ticks,
        columns=("After", *(names[suspect] for suspect in shown)),
        rows=tuple(_moved(ticks, [shares[suspect] for suspect in shown])),
        source="weights of the knowledge, changed by each answer's chance under each suspect (Bayes)",
    )


def _moved(ticks: Sequence[str], shares: Sequence[Sequence[float]]) -> Iterable[tuple[str, ...]]:
    """The shares at the start and after each check that moved one of them."""
    before: tuple[str, ...] = ()
    for place, tick in enumerate(ticks):
        row = tuple(f"{share[place]:.0f} %" for share in shares)
        if row != before:
            yield (tick, *row)
        before = row


def trend(
    id: str,
    title: str,
    unit: str,
    points: Sequence[tuple[str, float, bool | None]],
    low: float | None = None,
    high: float | None = None,
) -> Picture:
    """One reading of a unit over its visits, against its limits. ``points``: date, value in ``unit``, good or not."""
    spread = (0.0, float(len(points) - 1))
    limits = [
        Line(name=f"{name} limit {quantity(end, unit)}", role="limit", x=spread, y=(end, end))
        for name, end in (("lower", low), ("upper", high))
        if end is not None
    ]
    first, last = points[0], points[-1]
    return Picture(
        id=id,
        kind="trend",
        title=title,
        says=f"From {quantity(first[1], unit)} on {first[0]} to {quantity(last[1], unit)} on {last[0]}.",
        y_label=quantity_sign(unit),
        lines=(
            Line(name=title, role="path", x=tuple(map(float, range(len(points)))), y=tuple(p[1] for p in points)),
            *limits,
        ),
        marks=tuple(Mark(name="", x=float(at), y=p[1], good=p[2]) for at, p in enumerate(points)),
        x_ticks=tuple(p[0] for p in points),
        columns=("Date", "Read"),
        rows=tuple((p[0], quantity(p[1], unit)) for p in points),
    )
