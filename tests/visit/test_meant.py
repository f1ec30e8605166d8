"""Ordinary words by ear: what the writing ears mean is asked back where the grammar's answer is not borne out."""

from __future__ import annotations

import pytest

from assistant.dialogue.scope import scope_at
from assistant.language.interpret import interpret
from assistant.language.meaning import (
    Cannot,
    Command,
    Emergency,
    Expectation,
    Finding,
    Heard,
    Indication,
    Meaning,
    ReadingExpectation,
)
from assistant.language.net import Net, default_net
from assistant.language.net.encoder import NetError
from assistant.language.scope import Scope
from assistant.library.loader import load
from assistant.visit.meant import as_meant


def scope(key: str) -> Scope:
    found = scope_at(key, load())
    assert found is not None
    return found


def heard(
    *written: str, trust: str = "again", words: str = "", meaning: Meaning | None = None, ear: str = "it is blocked"
) -> Heard:
    ears = (("phoneme", ear), *zip(("whisper", "moonshine"), written, strict=False))
    return Heard.model_validate({"words": words, "meaning": meaning, "trust": trust, "ears": ears})


@pytest.mark.parametrize(
    ("key", "written", "meaning"),
    [
        ("filter-look.filter", ("It's plugged solid.", "it is plugged solid with dog hair"), Finding(choice="blocked")),
        (
            "visit.indication",
            ("water runs down the wall", "Water running down the wall."),
            Indication(choice="water-down-wall"),
        ),
        ("any", ("What are my choices?", "what are my choices"), Command(name="what-can-i-say")),
        ("any", ("there's smoke coming out of it", "there's smoke coming out of it"), Emergency(what="smoke")),
        ("filter-look.filter", ("it's plugged solid", "it's plucked salad"), Finding(choice="blocked")),
        ("filter-look.filter", ("it is spotless", "it's shocked widths"), Finding(choice="clear")),
    ],
)
def test_what_two_ears_mean_alike_is_asked_back(key, written, meaning) -> None:
    found = as_meant(heard(*written), scope(key), default_net)
    assert found.meaning == meaning
    assert found.trust == "confirm"


def test_what_the_sound_alone_was_taken_for_gives_way_to_what_was_written() -> None:
    found = as_meant(
        heard(
            *("Ramps up nice and easy.", "ramped up nice and easy"),
            trust="confirm",
            words="i can't see",
            meaning=Cannot(reason="cant-see"),
        ),
        scope("compressor-listen.sound"),
        default_net,
    )
    assert (found.trust, found.meaning) == ("confirm", Finding(choice="smooth"))


def test_of_two_that_differ_it_is_asked_which() -> None:
    found = as_meant(heard("it's plugged solid", "it is spotless"), scope("filter-look.filter"), default_net)
    assert set(found.options) == {Finding(choice="blocked"), Finding(choice="clear")}


def test_what_the_sound_was_taken_for_is_offered_too_where_it_is_like_what_was_written() -> None:
    musty = Indication(choice="smell-musty")
    said = heard("Smells of melting.", "smells of melting", trust="confirm", words="it smells of mould", meaning=musty)
    found = as_meant(said, scope("visit.indication"), default_net)
    assert found.options[0] == Indication(choice="smell-burnt")
    assert musty in found.options


def test_what_a_writing_ear_bears_out_stays() -> None:
    def loads() -> Net:
        raise AssertionError

    asked = heard("Blocked.", "black", trust="confirm", words="blocked", meaning=Finding(choice="blocked"))
    assert as_meant(asked, scope("filter-look.filter"), loads) is asked


def test_what_nobody_wrote_and_nobody_means_is_not_asked_about() -> None:
    said = heard(
        *("Blonde inside and with it.", "Blood inside our limit."),
        trust="confirm",
        words="couldn't see to it",
        meaning=Cannot(reason="cant-see"),
    )
    assert as_meant(said, scope("drain-pan-pour.level"), default_net).trust == "again"


def test_beside_noise_a_short_word_that_no_ear_wrote_is_still_asked_about() -> None:
    said = heard("Free tape.", "Threeteen", trust="confirm", words="repeat", meaning=Command(name="repeat"))
    assert as_meant(said, scope("any"), default_net).trust == "again"
    beside_noise = said.model_copy(update={"poor_sound": True})
    assert as_meant(beside_noise, scope("any"), default_net).meaning == Command(name="repeat")


def test_the_short_answer_to_what_was_asked_is_still_asked_about() -> None:
    """ "Locked" is written as anything: it is what the question waits for."""
    locked = Finding(choice="locked")
    for written in (("Lacks.", "Lacks,"), ("What?", "What?")):
        said = heard(*written, trust="confirm", words="locked", meaning=locked)
        assert as_meant(said, scope("lock-out-power.state"), default_net) == said
    long = ("Put the box on the ledge over there.", "Put the locks on the ledge of it")
    said = heard(*long, trust="confirm", words="locked", meaning=locked)
    assert as_meant(said, scope("lock-out-power.state"), default_net).trust == "again"


@pytest.mark.parametrize(
    ("written", "trust"),
    [
        (("Bathrooms down the wall, thanks.", "Bathrooms don't evolve, Jacks."), "again"),
        (("Well for too, I think.", "Forty bolts"), "confirm"),
    ],
)
def test_a_number_that_nobody_wrote_is_not_asked_about(written: tuple[str, ...], trust: str) -> None:
    wanted = ReadingExpectation(quantity="voltage_ac", unit="V", plausible=(0, 600))
    state = Scope(Expectation(question="measure.volts", reading=wanted))
    meaning = interpret("four two volts", state.expectation).meaning
    said = heard(*written, trust="confirm", words="four two volts", meaning=meaning)
    assert as_meant(said, state, default_net).trust == trust


@pytest.mark.parametrize(
    ("key", "written"),
    [
        ("lock-out-power.state", ("my padlock is on it and it's dead", "my padlock is on it and it's dead")),
        ("any", ("that's all done here", "fats owl dunn ear")),
    ],
)
def test_nothing_that_bears_on_the_power_or_leads_on_comes_this_way(key: str, written: tuple[str, ...]) -> None:
    assert as_meant(heard(*written), scope(key), default_net).trust == "again"


def test_talk_of_both_ears_is_marked() -> None:
    assert as_meant(heard("how's the new baby", "how is the new baby"), scope("any"), default_net).talk


def test_what_the_ears_agreed_on_stays_and_loads_nothing() -> None:
    def loads() -> Net:
        raise AssertionError

    sure = heard("clear", "clear", trust="sure", words="clear", meaning=Finding(choice="clear"))
    assert as_meant(sure, scope("filter-look.filter"), loads) is sure


def test_what_was_only_nearly_written_is_asked_about_where_both_mean_something_else() -> None:
    nearly = ("It hasn't gone down one bit.", "it hasn't gone down one bit")
    sure = heard(*nearly, trust="sure", words="it hasn't got one", meaning=Cannot(reason="not-there"))
    found = as_meant(sure, scope("drain-pan-pour.level"), default_net)
    assert (found.trust, found.meaning) == ("confirm", Finding(choice="stays"))


def test_without_its_model_nothing_is_meant() -> None:
    def lost() -> Net:
        raise NetError("missing")

    assert as_meant(heard("it is clear", "it is clear"), scope("filter-look.filter"), lost).trust == "again"
