"""Whether a visit, or a file that was written of it, is what was recorded."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

from assistant.errors import LaddersideError
from assistant.record.forms import SUMS, read_sums
from assistant.record.seal import content
from assistant.visit import chain
from assistant.visit.reading import JournalReader

#: A file of a visit's facts as the journal has them, a JSON object a line: the first is the visit, each other a fact.
FACTS = "record.facts.jsonl"


class VerifyError(LaddersideError):
    """The file cannot be verified at all."""


def facts_file(journal: JournalReader, visit: str) -> str:
    """The visit's facts with their links, to be verified anywhere. Raises UnknownVisit."""
    opened, rows, links = journal.chained(visit)
    head = {"visit": opened[0], "opened_at": opened[1], "origin": opened[2]}
    lines = [head, *({"seq": r[0], "at": r[1], "at_s": r[2], "kind": r[3], "body": r[4], "link": links.get(r[0])}
                     for r in rows)]  # fmt: skip
    return "".join(json.dumps(line, ensure_ascii=False) + "\n" for line in lines)


def file(path: Path, journal: JournalReader | None) -> tuple[str, list[str]]:
    """What was looked at, and what is wrong with it, a sentence each. Raises VerifyError."""
    try:
        data = path.read_bytes()
    except OSError as error:
        raise VerifyError(f"{path} cannot be read ({error}).") from None
    if path.suffix == ".jsonl":
        return _facts(path, data)
    wrong = _sum(path, data)
    if path.suffix == ".json":
        return _record(path, data, journal, wrong)
    if wrong is None:
        raise VerifyError(f"{path} has no line in {path.with_name(SUMS)}, which is written beside every record.")
    return f"{path}: its hash against {SUMS}", wrong


def _sum(path: Path, data: bytes) -> list[str] | None:
    known = read_sums(path.with_name(SUMS)).get(path.name)
    if known is None:
        return None
    fits = hashlib.sha256(data).hexdigest() == known
    return [] if fits else [f"The file is not the one that was written: its hash is not that in {SUMS}."]


def _record(path: Path, data: bytes, journal: JournalReader | None, wrong: list[str] | None) -> tuple[str, list[str]]:
    try:
        fields = json.loads(data)
        seal, visit = fields["seal"], str(fields["visit"])
        facts, link, kept = int(seal["facts"]), str(seal["chain"]), str(seal["content"])
    except (ValueError, KeyError, TypeError, RecursionError):
        raise VerifyError(f"{path} is no record of a visit in JSON, or its seal is gone.") from None
    wrong = list(wrong or [])
    if content(fields) != kept:
        wrong.append("Its content is not what was sealed: something in it was changed.")
    told = f"{path}: content of visit {visit}"
    if journal is None or not link or not any(row.id == visit for row in journal.visits()):
        return f"{told}; its journal is not here, so the facts behind it were not compared", wrong
    links = journal.chained(visit)[2]
    if links.get(facts) != link:
        wrong.append(f"Its seal does not fit line {facts} of the visit in {journal.path}.")
    return f"{told} and its seal against the journal", wrong + list(journal.verified(visit).wrong)


def _facts(path: Path, data: bytes) -> tuple[str, list[str]]:
    try:
        head, *lines = [json.loads(line) for line in data.decode("utf-8").splitlines()]
        start = chain.first(head["visit"], head["opened_at"], head["origin"])
        rows = [(int(x["seq"]), x["at"], float(x["at_s"]), x["kind"], x["body"]) for x in lines]
        links = {int(x["seq"]): x["link"] for x in lines if x["link"]}
    except (ValueError, KeyError, TypeError, RecursionError):
        raise VerifyError(f"{path} is no file of a visit's facts.") from None
    found = chain.follow(str(head["visit"]), start, rows, links)
    return f"{path}: {found.facts} facts of visit {head['visit']}, last link {found.last[:16]}", list(found.wrong)
