"""The energy state machine: every pair of states, and nothing dead without a measurement."""

import itertools

import pytest

from assistant.dialogue.energy import ORDER, after_procedure, allows, changeover, less_safe, safe_to_touch

SETS = {
    "lock-out-power": {"done": "isolated"},
    "prove-dead": {"dead": "proved-dead"},
    "restore-power": {"done": "live", "trips": "isolated"},
}
GOOD = {"lock-out-power": "done", "prove-dead": "dead", "restore-power": "done"}


@pytest.mark.parametrize(("now", "needed"), [*itertools.product(ORDER, (*ORDER, "any"))])
def test_changeover_leads_from_every_state_to_every_need(now, needed):
    state = now
    for procedure in changeover(now, needed):
        state = after_procedure(state, procedure, GOOD[procedure], SETS[procedure])
    assert allows(state, needed)


@pytest.mark.parametrize("now", ORDER)
def test_only_a_measured_dead_bus_on_a_locked_out_unit_proves_dead(now):
    reached = {
        (procedure, outcome)
        for procedure, sets in SETS.items()
        for outcome in (*sets, "charged", "cannot", "anything")
        if after_procedure(now, procedure, outcome, sets) == "proved-dead"
    }
    kept = {(procedure, outcome) for procedure, outcome in reached if procedure != "prove-dead"}
    if now == "live":
        assert reached == set()
    elif now == "isolated":
        assert reached == {("prove-dead", "dead")}
    else:
        # Locking again or an aborted step leaves a proved unit proved; a charged bus or power does not.
        assert ("prove-dead", "charged") not in reached
        assert ("restore-power", "done") not in kept
        assert ("restore-power", "trips") not in kept


def test_live_work_is_refused_on_a_locked_unit_and_isolated_work_on_a_live_one():
    assert not allows("isolated", "live")
    assert not allows("proved-dead", "live")
    assert not allows("live", "isolated")
    assert not allows("isolated", "proved-dead")
    assert allows("proved-dead", "isolated")


def test_doubt_falls_to_the_less_safe_state():
    assert [less_safe(a, b) for a, b in itertools.combinations(ORDER, 2)] == ["live", "live", "isolated"]


def test_touching_is_called_safe_in_one_state_only():
    assert safe_to_touch("live").startswith("No")
    assert safe_to_touch("isolated").startswith("Not yet")
    assert "measured dead" in safe_to_touch("proved-dead")
