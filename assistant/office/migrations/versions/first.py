"""The first tables: visits, answers, checks, repairs, parts, refrigerant, duties."""

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "first"
down_revision = None

_LINES = {
    "answers": "at check_id question place said quantity value:f unit unit_assumed:b margin:f status",
    "checks": "at check_id title role verdict outcome standing:b",
    "repairs": "at suspect component done:b proof words",
    "parts": "name count:F source",
    "refrigerant": "at kind kg:F cylinder",
    "duties": "what due article",
}
_VISITS = (
    "opened_at ended_at minutes:F closed:b kind site customer unit make model serial refrigerant charge_kg:f "
    "technician symptom outcome safety suspect component probability:f minutes_to_name:f facts:i chain"
)
#: Small letters may be empty where they are numbers; words, truths and F never are.
_KINDS = {"f": (sa.Float, True), "F": (sa.Float, False), "b": (sa.Boolean, False), "i": (sa.Integer, False)}


def _columns(written: str) -> list[sa.Column[Any]]:
    made = []
    for each in written.split():
        name, _, kind = each.partition(":")
        of, empty = _KINDS.get(kind, (sa.String, False))
        made.append(sa.Column(name, of(), nullable=empty))
    return made


def _key(*names: str) -> list[sa.Column[Any]]:
    return [sa.Column(name, sa.Integer if name == "position" else sa.String, primary_key=True) for name in names]


def upgrade() -> None:
    """Make them."""
    op.create_table("visits", *_key("device", "visit"), *_columns(_VISITS))
    for name, written in _LINES.items():
        op.create_table(name, *_key("device", "visit", "position"), *_columns(written))


def downgrade() -> None:
    """Take them away."""
    for name in ("visits", *_LINES):
        op.drop_table(name)
