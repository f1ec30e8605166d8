"""Which of the first questions of a complaint would still tell something."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from assistant.reasoning.belief import Belief
from assistant.reasoning.choice import LEAST_GAIN_BITS, gains
from assistant.reasoning.likelihoods import Table
from assistant.reasoning.standing import standing

#: A first question tells at least this share for a minute of what the best check tells that is open without a change
#: (no air split where nothing communicates). Common practice, no source.
FIRST_SHARE = 0.2


def worth_asking_first(
    table: Table, belief: Belief, checks: Sequence[str], done: Collection[str], skipped: Collection[str]
) -> tuple[str, ...]:
    """Those of ``checks`` that are open and tell something, or come before one of them that does; in their order."""
    now = standing(table, belief, done, skipped, "live", "anywhere")
    gain, _ = gains(table, belief)
    telling = [check for check in map(table.check_at.get, checks) if check is not None and now.open[check]]
    rate = gain / table.minutes
    least = FIRST_SHARE * float(rate[now.open].max(initial=0.0))
    telling = [check for check in telling if gain[check] >= LEAST_GAIN_BITS and rate[check] >= least]
    wanted = {first for check in telling for first in (check, *now.pending(table, check))}
    at = {check: table.check_at[check] for check in checks if table.check_at.get(check) in wanted}
    return tuple(check for check, place in at.items() if not now.pending(table, place))
