"""Writes the published JSON Schema of the record again: ``python -m assistant.record.publish``."""

from __future__ import annotations

import json
from pathlib import Path

from assistant.record.model import Record

FILE = Path(__file__).parent / "schema.json"


def schema() -> str:
    """JSON Schema 2020-12 of a record as it is written, with its version in its id."""
    made = Record.model_json_schema(mode="serialization")
    version = Record.model_fields["version"].default
    head = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:ladderside:record:{version}",
        "title": f"Ladderside service record {version}",
    }
    return json.dumps({**head, **{key: value for key, value in made.items() if key != "title"}}, indent=1) + "\n"


if __name__ == "__main__":
    FILE.write_text(schema(), encoding="utf-8")
    print(f"{FILE.name} is written.")
