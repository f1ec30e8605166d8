"""The sentence model as the pipeline uses it."""

from random import Random

import pytest

from assistant.data.places import data_folder
from assistant.dialogue.scope import tellable
from assistant.language.net import ANY, NONE, default_net, exemplars
from assistant.language.net.encoder import Encoder, NetError
from assistant.language.net.hashes import LEARNT, SHA256
from assistant.language.net.ranking import sentence_net
from assistant.library.loader import load

FOLDER = data_folder("grammars") / "meanings"


@pytest.fixture(scope="module")
def net():
    return default_net()


@pytest.fixture(scope="module")
def indications():
    return [f"indication:{name}" for name in load().symptoms]


def test_chances_sum_to_one_and_the_best_is_first(net, indications):
    ranked = net.rank("the blower in the bedroom quit moving", indications, "visit.indication")
    assert sum(one.chance for one in ranked) == pytest.approx(1)
    assert [one.chance for one in ranked] == sorted((one.chance for one in ranked), reverse=True)
    assert ranked[0].key == "indication:indoor-fan-still"
    assert net.rank("the blower in the bedroom quit moving", indications, "visit.indication") == ranked


def test_talk_means_none(net, indications):
    assert net.rank("tell your brother the truck is blocking the driveway", indications, "visit.indication")[0].key == (
        NONE
    )


def test_an_answer_is_read_with_its_question(net):
    library = load()
    key = "filter-look.filter"
    choices = [f"{key}=choice:{choice.id}" for choice in library.checks["filter-look"].ask[0].choices]
    first = net.rank("it is plugged solid with dog hair", choices, key)[0].key
    assert first == f"{key}=choice:blocked"


def test_nothing_known_is_none(net):
    assert net.rank("whatever", ["indication:nobody-knows-this"], ANY)[0].key == NONE
    assert net.rank(" ", ["indication:high-bill"], ANY)[0].key == NONE


def test_every_choice_and_symptom_of_the_knowledge_is_known(net):
    library = load()
    keys = [f"indication:{name}" for name in library.symptoms]
    for check in library.checks.values():
        for question in check.ask:
            keys += [f"{check.id}.{question.key}=choice:{choice.id}" for choice in question.choices]
    unknown = [key for key in keys if not net.knows(key)]
    assert not unknown, f"run python grammars/teaching/embed_meanings.py: {unknown}"


def test_an_altered_model_is_refused(tmp_path):
    for name in SHA256:
        (tmp_path / name).write_bytes((FOLDER / name).read_bytes())
    (tmp_path / "word-pieces.json").write_text("{}")
    with pytest.raises(NetError, match="is not the one it was"):
        Encoder(tmp_path, SHA256)
    (tmp_path / "word-pieces.json").unlink()
    with pytest.raises(NetError, match="is missing"):
        Encoder(tmp_path, SHA256)


@pytest.mark.parametrize("name", LEARNT)
def test_what_was_learnt_is_held_to_its_hash(tmp_path, name):
    """One bit, or an end that is missing; what is shipped fits (``net`` loads it)."""
    load_it = {exemplars.FILE: exemplars.load, exemplars.WEIGHTS: exemplars.weights}[name]
    whole = (FOLDER / name).read_bytes()
    load_it(FOLDER, LEARNT[name])
    chance = Random(7)
    for _ in range(6):
        spoilt = bytearray(whole)
        at = chance.randrange(len(whole))
        if chance.random() < 0.7:
            spoilt[at] ^= 1 << chance.randrange(8)
        else:
            del spoilt[at:]
        (tmp_path / name).write_bytes(spoilt)
        with pytest.raises(NetError, match="is not the one it was; install"):
            load_it(tmp_path, LEARNT[name])
    (tmp_path / name).unlink()
    with pytest.raises(NetError, match="is missing"):
        load_it(tmp_path, LEARNT[name])


def test_what_is_asked_besides_a_measurement_is_never_told_unasked():
    barred = tellable(load()).barred
    assert "indoor-fan-volts.turning" in barred
    assert "indoor-fan-look.turning" not in barred


def test_clauses_made_together_are_ranked_as_each_alone(net, indications):
    said = ["the blower in the bedroom quit moving", "water drips from the cassette"]
    alone = [net.rank(words, indications, ANY) for words in said]
    fresh = sentence_net.__wrapped__()
    fresh.expect(said, ANY)
    for words, before in zip(said, alone, strict=True):
        again = fresh.rank(words, indications, ANY)
        assert [one.key for one in again[:5]] == [one.key for one in before[:5]]
        assert [one.chance for one in again] == pytest.approx([one.chance for one in before], abs=1e-3)
