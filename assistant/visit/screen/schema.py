"""The published JSON Schema of what a screen shows and takes: ``python -m assistant.visit.screen.schema`` writes it."""

from __future__ import annotations

import json
from pathlib import Path

from pydantic.json_schema import models_json_schema

from assistant.visit.screen.shown import Screen
from assistant.visit.screen.taps import TapChoice, TapCommand, TapEmergency, TapReading, TapText

FILE = Path(__file__).with_name("schema.json")
TAPS = (TapChoice, TapReading, TapText, TapCommand, TapEmergency)


def schema() -> str:
    """The schema as text; ``Screen`` and each tap stand under ``$defs``."""
    _, defined = models_json_schema(
        [(Screen, "serialization"), *((tap, "validation") for tap in TAPS)],
        title="Ladderside: a screen beside the voice",
    )
    whole = {"$schema": "https://json-schema.org/draft/2020-12/schema", **defined}
    whole["anyOf"] = [{"$ref": f"#/$defs/{model.__name__}"} for model in (Screen, *TAPS)]
    return json.dumps(whole, indent=2, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    FILE.write_text(schema(), encoding="utf-8")
