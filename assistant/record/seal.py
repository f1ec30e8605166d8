"""What binds a record to the journal, and shows that a written one was not changed.

``Seal.chain`` is the hash at the end of the chain over the visit's facts (``visit/chain.py``): it fits this journal and
no other. ``Seal.content`` is the SHA-256 of the record's JSON without the seal, keys sorted, without spaces, UTF-8.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence

from assistant.record.model import Record, Seal
from assistant.visit.reading import Stamped


def of_facts(facts: Sequence[Stamped]) -> Seal:
    """The seal over the facts as the journal chained them; no chain in a journal of before there was one."""
    return Seal(facts=facts[-1].seq if facts else 0, chain=facts[-1].chain if facts else "")


def content(fields: dict[str, object]) -> str:
    """The hash of a record's JSON fields; a seal among them is left out."""
    bare = {name: value for name, value in fields.items() if name != "seal"}
    text = json.dumps(bare, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def sealed(record: Record) -> Record:
    """The record with its content's hash."""
    seal = record.seal.model_copy(update={"content": content(record.model_dump(mode="json"))})
    return record.model_copy(update={"seal": seal})
