"""What is learnt from the field: shrunk honestly, written for review, used only after it."""

import random

import pytest
import yaml

from assistant.library.loader import load
from assistant.office.learning import LearningError, learn, written

LIBRARY = {"a": 4.0, "b": 2.0, "c": 1.0, "d": 1.0}


def by_name(learnt):
    return {weight.suspect: weight for weight in learnt.weights}


def test_shares_stay_shares_and_nothing_dies_out():
    learnt = learn(LIBRARY, {"c": 400})
    assert sum(weight.after for weight in learnt.weights) == pytest.approx(1)
    assert all(weight.after > 0 for weight in learnt.weights)
    assert by_name(learnt)["c"].after > 0.8


def test_few_repairs_move_little_and_many_much():
    few, many = (by_name(learn(LIBRARY, {"c": n}))["c"] for n in (2, 500))
    assert few.before == pytest.approx(0.125)
    assert few.after < 0.2
    assert many.after > 0.8
    assert few.high - few.low > many.high - many.low


def test_counts_as_the_library_has_them_change_nothing():
    learnt = learn(LIBRARY, {"a": 400, "b": 200, "c": 100, "d": 100})
    for weight in learnt.weights:
        assert weight.after == pytest.approx(weight.before, abs=0.002)
    assert learnt.strength > 1000


def test_intervals_hold_what_they_say():
    """95 % intervals hold the true shares of fleets that differ little or much from a library of twenty suspects."""
    rng, held, total = random.Random(5), 0, 0
    library = {f"suspect-{at}": float(1 + at % 7) for at in range(20)}
    whole = sum(library.values())
    for round_ in range(60):
        strength = (40, 300, 2000)[round_ % 3]
        raw = [rng.gammavariate(strength * share / whole, 1) for share in library.values()]
        true = [value / sum(raw) for value in raw]
        drawn = rng.choices(list(library), true, k=200)
        learnt = by_name(learn(library, {name: drawn.count(name) for name in library}))
        for name, share in zip(library, true, strict=True):
            total += 1
            held += learnt[name].low <= share <= learnt[name].high
    assert 0.92 <= held / total <= 0.985


def test_nothing_confirmed_teaches_nothing():
    with pytest.raises(LearningError):
        learn(LIBRARY, {"unknown": 3})


def test_the_file_counts_only_with_a_reviewers_name(tmp_path):
    plain = load(user=tmp_path)
    weights = {name: suspect.weight for name, suspect in plain.suspects.items()}
    rare = min(weights, key=lambda name: weights[name])
    text = written(learn(weights, {rare: 300}))
    file = tmp_path / "weights.yaml"
    file.write_text(text)
    assert load(user=tmp_path).suspects[rare].weight == weights[rare]
    body = yaml.safe_load(text)
    assert body["weights"][0]["suspect"] == rare
    assert body["weights"][0]["confirmed"] == 300
    file.write_text(text.replace("reviewed_by: ''", "reviewed_by: Dana"))
    reviewed = load(user=tmp_path)
    assert reviewed.suspects[rare].weight > 20 * weights[rare]
    whole = sum(suspect.weight for suspect in reviewed.suspects.values())
    assert whole == pytest.approx(sum(weights.values()), rel=1e-3)


def test_a_broken_file_is_set_aside(tmp_path):
    (tmp_path / "weights.yaml").write_text("reviewed_by: Dana\nweights: 3\n")
    library = load(user=tmp_path)
    assert len(library.set_aside) == 1
    assert library.suspects
