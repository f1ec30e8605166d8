"""The tagged alternatives of a rule: what each tag of a closed grammar stands for."""

from __future__ import annotations

from assistant.language.jsgf import Alt, Expansion, Tagged
from assistant.language.sources import shipped


def tagged_alternatives(rule: str) -> tuple[tuple[str, Expansion], ...]:
    """Each tag of the rule ``grammar.rule`` with the expansion that it marks."""
    expansion, _ = shipped().lookup({})(rule, rule.partition(".")[0])
    items = expansion.items if isinstance(expansion, Alt) else ()
    return tuple((item.tag, item.item) for _, item in items if isinstance(item, Tagged))
