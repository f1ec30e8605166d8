"""What a day of many units leaves in memory is bounded, and what went is come to again."""

import gc
import weakref

import pytest

from assistant.visit.session import Knowledgeable


@pytest.fixture
def fresh(context):
    return Knowledgeable(context.library)


def test_few_units_and_beliefs_are_kept_and_each_is_the_same_when_it_comes_back(fresh):
    library = fresh.library
    units = [*library.profiles.values(), *library.generals.values()]
    symptoms = tuple(library.symptoms)[:40]
    first = fresh.believe(units[0], symptoms[:1], ())
    reasoner, belief = weakref.ref(fresh.reasoner(units[0])), weakref.ref(first)
    assert fresh.believe(units[0], symptoms[:1], ()) is first
    shares = first.weights.singles.tolist()
    del first
    for unit in units:
        for symptom in symptoms:
            fresh.believe(unit, (symptom,), ())
    gc.collect()
    assert reasoner() is None
    assert belief() is None
    assert fresh.believe(units[0], symptoms[:1], ()).weights.singles.tolist() == shares
