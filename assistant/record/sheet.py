"""The record as a table for a spreadsheet: all that the page says, one row a line, its kind in the column ``line``.

An office that wants the readings alone keeps the rows "answer"; every row names its visit, site and unit.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping
from datetime import datetime

from assistant.reasoning.judgement import Working
from assistant.record.limits import limit
from assistant.record.model import ROLE_WORDS, AnswerLine, CheckLine, Record

#: Each row begins with these.
_HEAD = ("visit", "site", "unit", "serial", "technician", "line")
#: What a row of any kind may have; ``check`` is what the row is about, ``said`` what it says, ``words`` the rest.
_COLUMNS = (
    *("number", "time", "check", "question", "place", "quantity", "value", "unit of value", "unit assumed", "said"),
    *("low limit", "high limit", "limit unit", "margin", "margin unit", "source of limit", "words", "how"),
    *("probability", "status", "replaces"),
)
#: A cell of words that begins so is taken for a formula.
_COMPUTED = ("=", "+", "-", "@", "\t", "\r", "\n")

#: The kind of a row, and its cells by column.
Row = tuple[str, Mapping[str, object]]


def as_csv(record: Record) -> str:
    """First what stands on the customer's page, then what stands in the appendix."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow((*_HEAD, *_COLUMNS))
    head = (record.visit, record.site, record.unit.name, record.unit.serial, record.technician)
    for line, cells in (*_first_page(record), *_appendix(record)):
        row = (*head, line, *(cells.get(column) for column in _COLUMNS))
        writer.writerow([_no_formula(cell) for cell in row])
    return out.getvalue()


def _no_formula(cell: object) -> object:
    """Words that a spreadsheet would compute ("+4 volts") are marked as words, as spreadsheets themselves do."""
    return f"'{cell}" if isinstance(cell, str) and cell.startswith(_COMPUTED) else cell


def _time(at: datetime | None) -> str:
    return at.isoformat(timespec="seconds") if at else ""


def _first_page(record: Record) -> Iterator[Row]:
    left, summary, unit = record.left, record.summary, record.unit
    yield "safety", {"said": left.headline, "status": left.safety}
    for line, texts in (
        ("safety", left.sentences), ("wrong", summary.wrong), ("on arrival", record.indications),
        ("done", summary.done), ("watch", summary.watch), ("open", summary.open), ("next due", summary.next_due),
        ("note", record.notes),
    ):  # fmt: skip
        yield from ((line, {"said": text}) for text in texts)
    for pair in summary.pairs:
        for when, said, verdict, value in (
            ("before", pair.before, pair.before_verdict, pair.before_value),
            ("after", pair.after, pair.after_verdict, pair.after_value),
        ):
            number = {"quantity": pair.quantity, "value": value, "unit of value": pair.unit}
            yield when, {"check": pair.what, "said": said, "status": verdict, **number}
    for part in record.parts:
        cells = {"time": _time(part.at), "check": part.name, "value": part.count, "place": part.source}
        yield "part", {**cells, "said": f"{part.count:g}"}
    for move in record.refrigerant:
        mass = {"quantity": "mass", "value": move.kg, "unit of value": "kg", "said": move.said}
        yield "refrigerant", {"time": _time(move.at), "check": move.kind, "place": move.cylinder, **mass}
    told = {
        "customer": record.customer, "kind": record.kind, "make": unit.make, "model": unit.model,
        "indoor unit": unit.zone, "refrigerant": unit.refrigerant, "figures from": unit.data_from,
        "technicians": ", then ".join(record.technicians), "opened": _time(record.opened_at),
        "ended": _time(record.ended_at), "outcome": record.outcome, "knowledge": record.library,
        "heard by": record.origin, "mind": record.caution, "chain": record.seal.chain, "content": record.seal.content,
    }  # fmt: skip
    yield from (("visit", {"check": what, "said": said}) for what, said in told.items() if said)
    numbers = (
        ("nameplate charge", unit.charge_kg, "kg"), ("worked", record.worked_min, "min"),
        ("away", record.away_min, "min"), ("travelled", record.travelled_min, "min"),
        ("facts", record.seal.facts, ""), ("lines lost", record.lost, ""),
    )  # fmt: skip
    yield from (("visit", {"check": what, "value": n, "unit of value": of}) for what, n, of in numbers if n)
    for signed in record.signatures:
        drawn = "drawn" if signed.drawing else "named"
        yield "signature", {"time": _time(signed.at), "check": signed.role, "said": signed.name, "how": drawn}
    for photo in record.photos:
        kept = "attached" if photo.image else "not attached"
        yield "photo", {"time": _time(photo.at), "said": photo.caption, "how": kept}


def _appendix(record: Record) -> Iterator[Row]:
    for picture in record.pictures:
        yield "picture", {"check": picture.title, "said": picture.says, "source of limit": picture.source}
        for row in picture.rows:
            cells = "; ".join(f"{column}: {cell}" for column, cell in zip(picture.columns, row, strict=True))
            yield "picture", {"check": picture.title, "words": cells}
    for fault in record.faults:
        about = {"time": _time(fault.at), "check": fault.name or "nothing could be named", "place": fault.component}
        yield "fault", {**about, "said": fault.reason, "probability": f"{fault.probability:.3f}"}
    for repair in record.repairs:
        about = {"time": _time(repair.at), "check": repair.name, "place": repair.component, "status": repair.proof}
        yield "repair", {**about, "said": repair.words or ("made" if repair.done else "not made")}
    for check in record.checks:
        yield "verdict", _check(check)
        yield from _sums("working", check.working, check.title)
    yield from (("answer", _answer(answer)) for answer in record.answers)
    for missed in record.not_checked:
        yield "not checked", {"time": _time(missed.at), "check": missed.title, "said": missed.reason}
    for duty in record.duties:
        yield "duty", {"said": duty.what, "status": duty.due, "source of limit": duty.article}
    yield from _sums("sum", record.calculations)
    for span in record.energy:
        until = f"until {_time(span.until)}" if span.until else "to the end"
        state = {"said": span.state.replace("-", " "), "status": until, "words": span.because or "as found"}
        yield "energy", {"time": _time(span.since), "place": span.place, **state}
    for hold in record.holds:
        advised = f"advised {hold.asked_s:g} s" if hold.asked_s else ""
        length = {"value": hold.seconds, "unit of value": "s" if hold.seconds is not None else "", "words": advised}
        yield hold.kind, {"time": _time(hold.since), **length}
    for caution in record.cautions:
        taken = "not acknowledged" if caution.waits else "spoken"
        if caution.acknowledged_at:
            taken = f"acknowledged {_time(caution.acknowledged_at)}"
        yield "caution", {"time": _time(caution.at), "place": caution.place, "said": caution.text, "status": taken}
    for change in record.amendments:
        about = {"time": _time(change.at), "check": change.what, "question": change.about, "said": change.now}
        number = {"value": change.value, "unit of value": change.unit}
        why = {"words": f"was {change.was}; {change.why}", "how": f"amended by {change.who}", "status": "amended"}
        yield "amended", {**about, **number, **why}
    for spoken in record.transcript:
        yield "talk", {"time": _time(spoken.at), "how": spoken.who, "said": spoken.text, "status": spoken.trust}


def _sums(line: str, workings: tuple[Working, ...], check: str = "") -> Iterator[Row]:
    for one in workings:
        words = f"{one.formula}: {one.numbers}"
        yield line, {"check": check, "said": one.result, "words": words, "source of limit": one.source}


def _check(check: CheckLine) -> dict[str, object]:
    energy = ", ".join(f"{each.place} {each.state.replace('-', ' ')}" for each in check.energy)
    margin = {"margin": check.margin.value, "margin unit": check.margin.unit} if check.margin else {}
    return {
        "time": _time(check.at), "check": check.title, "said": check.says, "how": ROLE_WORDS[check.role],
        "words": f"energy state: {energy}", "status": check.verdict if check.standing else "replaced or taken back",
        **margin,
    }  # fmt: skip


def _answer(a: AnswerLine) -> dict[str, object]:
    low, high = limit(a.bounds, "low"), limit(a.bounds, "high")
    one = low or high
    return {
        "number": a.number, "time": _time(a.at), "check": a.check, "question": a.question, "place": a.place,
        "quantity": a.quantity, "value": a.value, "unit of value": a.unit,
        "unit assumed": ("yes" if a.unit_assumed else "no") if a.quantity else "", "said": a.said,
        "low limit": low.value if low else None, "high limit": high.value if high else None,
        "limit unit": one.unit if one else "",
        "margin": a.margin.value if a.margin else None, "margin unit": a.margin.unit if a.margin else "",
        "source of limit": "; ".join(dict.fromkeys(b.source for b in a.bounds)), "words": a.words, "how": a.how,
        "probability": f"{a.probability:.3f}", "status": a.status, "replaces": a.replaces,
    }  # fmt: skip
