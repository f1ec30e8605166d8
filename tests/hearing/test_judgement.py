"""The rule: when the ears' answers may be recorded, when they are asked about, and when nothing was understood."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.hearing.listening.judgement import (
    AGAIN,
    CLEARLY,
    FAR,
    SURE,
    TOGETHER,
    VETO,
    Candidate,
    View,
    hearers,
    is_babble,
    judge,
    plausible,
    rank,
)
from assistant.language.compare import meaning_key
from assistant.language.interpret import interpret
from assistant.language.meaning import (
    Choice,
    Command,
    Correction,
    Expectation,
    Finding,
    Meaning,
    ReadingExpectation,
    Text,
)

VOLTS = Expectation(
    question="test",
    reading=ReadingExpectation(quantity="voltage_ac", unit="V", plausible=(0, 500)),
)


UNASKED = View()


def meaning(words: str) -> Meaning:
    found = interpret(words, VOLTS).meaning
    assert found is not None
    return found


def exactly(chance: float) -> View:
    """The writing ear wrote this and nothing else."""
    return View(written=chance, exact=True)


def asked(chance: float) -> View:
    """It wrote something else, and was asked about this."""
    return View(second=chance)


def candidate(
    words: str, forward: float, whisper: View = UNASKED, moonshine: View = UNASKED, found: bool = True, doubt: str = ""
) -> Candidate:
    return Candidate(meaning(words), words, forward, found, {"whisper": whisper, "moonshine": moonshine}, doubt)


def key(words: str) -> tuple[object, ...]:
    return meaning_key(meaning(words))


FORTY, FIFTEEN = "two forty volts", "two fifteen volts"
ALL_FORTY = (key(FORTY),) * 3
CLEAR = (
    candidate(FORTY, 0.0, exactly(-1.0), exactly(-1.5)),
    candidate(FIFTEEN, -15.0, asked(-14.0), asked(-17.0)),
)


def test_ears_that_agree_clearly_are_sure() -> None:
    judged = judge(CLEAR, ALL_FORTY, VOLTS)
    assert judged.trust == "sure"
    assert judged.chance >= SURE
    assert judged.answer is CLEAR[0]
    assert judged.runner_up is CLEAR[1]
    assert judged.hearers == 3


def test_two_of_three_ears_are_enough() -> None:
    deaf = (replace(CLEAR[0], found=False), CLEAR[1])
    assert judge(deaf, (key(FIFTEEN), key(FORTY), key(FORTY)), VOLTS).trust == "sure"


@pytest.mark.parametrize("only", ["phoneme", "whisper", "moonshine"])
def test_an_ear_alone_is_never_sure(only: str) -> None:
    """However likely the others find it when they are asked: they did not hear it by themselves."""
    views = {name: exactly(-1.0) if name == only else asked(-1.0) for name in ("whisper", "moonshine")}
    alone = replace(CLEAR[0], found=only == "phoneme", views=views)
    judged = judge((alone, CLEAR[1]), (key(FORTY), None, None), VOLTS)
    assert (judged.hearers, judged.trust) == (1, "confirm")


def test_an_ear_that_finds_another_answer_likelier_has_not_heard_this_one() -> None:
    split = (
        candidate(FORTY, 0.0, exactly(-1.0), exactly(-6.0)),
        candidate(FIFTEEN, -9.0, asked(-14.0), exactly(-1.0)),
    )
    assert hearers(split[0], split) == 2
    assert hearers(split[1], split) == 1


@pytest.mark.parametrize(("against", "trust"), [(VETO - 1, "sure"), (VETO + 1, "confirm")])
def test_an_ear_that_finds_something_else_far_likelier_is_heeded(against: float, trust: str) -> None:
    """Both writing ears left the same digit out; to the phoneme ear that is nonsense."""
    two = (
        candidate(FORTY, -against, exactly(-1.0), exactly(-1.0)),
        candidate(FIFTEEN, 0.0, asked(-25.0), asked(-25.0)),
    )
    judged = judge(two, ALL_FORTY, VOLTS)
    assert judged.chance >= SURE
    assert judged.trust == trust


def test_what_an_ear_came_upon_by_itself_is_worth_more_than_what_it_can_be_asked_about() -> None:
    for view, best in ((exactly(-4.0), FIFTEEN), (asked(-4.0), FORTY)):
        two = (
            candidate(FORTY, 0.0, asked(-4.0), asked(-4.0)),
            candidate(FIFTEEN, -2.0, view, asked(-4.0)),
        )
        judged = judge(two, ALL_FORTY, VOLTS)
        assert judged.answer is not None
        assert judged.answer.words == best


def test_an_answer_without_a_rival_must_be_written_surely() -> None:
    """In noise all that makes sense of "blocked" may be a faint "no": there is nothing to compare it with."""
    surely = (candidate(FORTY, 0.0, exactly(-1.0), exactly(-1.5)),)
    assert judge(surely, ALL_FORTY, VOLTS).trust == "sure"
    faintly = (candidate(FORTY, 0.0, exactly(-6.5), exactly(-6.2)),)
    assert judge(faintly, ALL_FORTY, VOLTS).trust == "confirm"
    by_two = (candidate(FORTY, 0.0, exactly(-5.0), asked(-6.0)),)
    assert judge(by_two, ALL_FORTY, VOLTS).trust == "confirm"
    by_all = (candidate(FORTY, 0.0, exactly(-5.0), exactly(-5.0)),)
    assert judge(by_all, ALL_FORTY, VOLTS).trust == "sure"
    assert judge((*faintly, CLEAR[1]), ALL_FORTY, VOLTS).trust == "sure"
    by_whisper = (candidate(FORTY, 0.0, exactly(-3.0), asked(-6.0)),)
    assert judge(by_whisper, ALL_FORTY, VOLTS).trust == "sure"
    by_moonshine = (candidate(FORTY, 0.0, asked(-6.0), exactly(-3.0)),)
    assert judge(by_moonshine, ALL_FORTY, VOLTS).trust == "confirm"


def test_two_ears_must_hear_it_clearly() -> None:
    """Where the third ear heard nothing of it, one that can hardly tell it from another answer is no witness."""
    two = (candidate(FORTY, 0.4, exactly(-1.0), asked(-6.0)), candidate(FIFTEEN, 0.0, asked(-15.0), asked(-7.0)))
    assert judge(two, ALL_FORTY, VOLTS).trust == "confirm"
    assert judge((replace(two[0], forward=CLEARLY + 0.1), two[1]), ALL_FORTY, VOLTS).trust == "sure"


@pytest.mark.parametrize(
    ("moonshine", "trust"),
    [
        (exactly(-7.0 + TOGETHER + 0.1), "sure"),
        (exactly(-7.0 + TOGETHER - 0.1), "confirm"),
        (asked(-7.0 + FAR + 0.1), "sure"),
        (asked(-7.0 + FAR - 0.1), "confirm"),
    ],
)
def test_an_ear_that_can_hardly_tell_needs_two_that_can(moonshine: View, trust: str) -> None:
    """The third has heard it too, or, asked, puts it far ahead."""
    two = (candidate(FORTY, 0.4, exactly(-1.0), moonshine), candidate(FIFTEEN, 0.0, asked(-15.0), asked(-7.0)))
    assert judge(two, ALL_FORTY, VOLTS).trust == trust
    against = (replace(two[0], forward=-0.1), two[1])
    assert judge(against, ALL_FORTY, VOLTS).trust == "confirm"


@pytest.mark.parametrize(
    ("texts", "moonshine", "trust"),
    [
        ({}, asked(-4.0), "confirm"),
        ({"moonshine": "two forty vaults"}, asked(-4.0), "sure"),
        ({"moonshine": "two fourteen vaults"}, asked(-4.0), "confirm"),
        ({"moonshine": "two forty vaults"}, asked(-18.0), "confirm"),
        ({"whisper": "two forty vaults"}, asked(-4.0), "confirm"),
    ],
)
def test_an_ear_that_nearly_wrote_it_bears_one_out_that_heard_it(
    texts: dict[str, str], moonshine: View, trust: str
) -> None:
    """Its numbers are those of the answer, and asked, it finds no other likelier. What it wrote exactly counts once."""
    alone = replace(CLEAR[0], found=False, views={"whisper": exactly(-1.0), "moonshine": moonshine})
    assert judge((alone, CLEAR[1]), (None, key(FORTY), None), VOLTS, texts).trust == trust


@pytest.mark.parametrize("ahead", [1.0, 10.0])
def test_an_ear_that_wrote_it_with_a_doubt_does_not_bear_itself_out(ahead: float) -> None:
    doubted = View(written=-2.0, second=-3.0, doubted=True)
    two = (
        replace(CLEAR[0], found=False, views={"whisper": asked(-9.0), "moonshine": doubted}),
        candidate(FIFTEEN, -15.0, asked(-9.0), asked(-3.0 - ahead)),
    )
    assert judge(two, (None, None, key(FORTY)), VOLTS, {"moonshine": "Two forty, volts."}).trust == "confirm"


def test_two_ears_that_nearly_wrote_it_are_not_enough() -> None:
    near = replace(CLEAR[0], found=False, views={"whisper": asked(-1.0), "moonshine": asked(-1.0)})
    texts = {"whisper": "two forty vaults", "moonshine": "two forty vaults"}
    assert judge((near, CLEAR[1]), (None, None, None), VOLTS, texts).trust == "confirm"


def test_what_the_sound_found_without_a_rival_is_sure_where_it_was_nearly_written() -> None:
    sole = (candidate(FORTY, 0.0),)
    assert judge(sole, (key(FORTY), None, None), VOLTS).trust == "confirm"
    assert judge(sole, (key(FORTY), None, None), VOLTS, {"moonshine": "two forty vaults"}).trust == "sure"


def test_a_doubt_of_language_is_asked() -> None:
    doubtful = (replace(CLEAR[0], doubt="no unit was said"), CLEAR[1])
    judged = judge(doubtful, ALL_FORTY, VOLTS)
    assert (judged.trust, judged.doubt) == ("confirm", "no unit was said")


def test_what_no_instrument_can_show_there_is_asked() -> None:
    words = "nine hundred volts"
    judged = judge((candidate(words, 0.0, exactly(-1.0), exactly(-1.0)),), (key(words),) * 3, VOLTS)
    assert judged.trust == "confirm"


def test_the_plausible_of_two_near_answers_wins() -> None:
    """Of "nine hundred" and "one hundred", nearly alike, only one is a supply voltage here."""
    close = (
        candidate("nine hundred volts", 0.3, exactly(-2.0), asked(-3.0)),
        candidate("one hundred volts", 0.0, asked(-3.0), exactly(-2.0)),
    )
    answer = judge(close, (key("nine hundred volts"), None, key("one hundred volts")), VOLTS).answer
    assert answer is close[1]


def test_what_the_writing_ears_find_likelier_wins_over_a_little_better_sound() -> None:
    heard = candidate(FIFTEEN, 1.0, asked(-40.0), asked(-30.0))
    written = candidate(FORTY, 0.0, exactly(-3.0), asked(-5.0))
    judged = judge((heard, written), (key(FIFTEEN), key(FORTY), None), VOLTS)
    assert judged.answer is written
    assert judged.runner_up is heard
    assert judged.trust != "sure"


def test_a_near_rival_is_asked_about_even_when_all_agree() -> None:
    """All ears may drop the same word in noise; how likely they find the other answer tells."""
    near = (
        candidate(FORTY, 0.0, exactly(-2.0), exactly(-2.0)),
        candidate(FIFTEEN, -0.3, asked(-2.2), asked(-2.5)),
    )
    assert judge(near, ALL_FORTY, VOLTS).trust == "confirm"


def test_a_dropped_word_costs_what_it_gains() -> None:
    """Every ear likes short strings, so of two that sound alike the longer is taken."""
    longer = candidate("two forty one volts", -1.0, asked(-4.0), asked(-4.0))
    shorter = candidate(FORTY, -1.0, asked(-4.0), asked(-4.0))
    assert rank((shorter, longer), VOLTS)[0][0] is longer


def test_an_ear_that_cannot_be_asked_counts_by_what_it_proposed() -> None:
    """Vosk tells no chance of other words; that it wrote one of them speaks for that."""
    told = (
        replace(candidate(FORTY, 0.0), views={"vosk": View(written=-1.0)}),
        replace(candidate(FIFTEEN, 0.5), views={"vosk": View()}),
    )
    assert judge(told, (key(FIFTEEN), key(FORTY)), VOLTS).answer is told[0]


SITE = Expectation(question="test", text=True)


def free(words: str, whisper: View = UNASKED, moonshine: View = UNASKED) -> Candidate:
    return Candidate(Text(words=words), words, -80.0, False, {"whisper": whisper, "moonshine": moonshine})


def test_free_words_are_taken_from_an_ear_that_can_write_them() -> None:
    name = free("blue mill bakery", exactly(-2.0))
    misheard = Candidate(Command(name="wait"), "wait", -20.0, True, {"whisper": View(), "moonshine": View()})
    judged = judge((misheard, name), (meaning_key(misheard.meaning), meaning_key(name.meaning), None), SITE)
    assert judged.answer is name
    assert judged.trust == "confirm"
    made_up = free("bremble forge", exactly(-8.0))
    assert judge((made_up,), (None, meaning_key(made_up.meaning), None), SITE).trust == "confirm"
    unsure = free("blue mill bakery", exactly(-18.0))
    assert judge((unsure,), (None, meaning_key(name.meaning), None), SITE).trust == "again"


def test_of_two_free_texts_the_one_that_both_wrote_is_taken() -> None:
    slip, same = free("blue meal bakery", exactly(-1.0)), free("blue mill bakery", View(), exactly(-2.0))
    firsts = (None, meaning_key(slip.meaning), meaning_key(same.meaning))
    assert judge((slip, same), firsts, SITE).answer is slip
    assert judge((slip, same), (meaning_key(same.meaning), *firsts[1:]), SITE).answer is same


def test_a_command_that_two_ears_heard_goes_before_free_words() -> None:
    wait = Candidate(Command(name="wait"), "wait", 0.0, True, {"whisper": View(), "moonshine": exactly(-1.0)})
    weight = free("weight", exactly(-1.0))
    firsts = (meaning_key(wait.meaning), meaning_key(weight.meaning), meaning_key(wait.meaning))
    assert judge((wait, weight), firsts, SITE).answer is wait


def test_one_word_over_and_over_is_never_taken_for_an_answer() -> None:
    assert not is_babble("two two two two two two volts")
    assert is_babble("no no no no no")
    assert not is_babble("eight eight eight eight")
    no = Expectation(question="test", choices=(Choice(id="no", phrases=("no", "no no no no no")),))
    views = {"whisper": exactly(-1.0), "moonshine": exactly(-1.0)}
    said = Candidate(Finding(choice="no"), "no no no no no", 0.0, True, views)
    name = meaning_key(said.meaning)
    assert judge((said,), (name, name, name), no).trust == "confirm"
    assert judge((replace(said, words="no"),), (name, name, name), no).trust == "sure"


def test_nothing_proposed_is_asked_again() -> None:
    judged = judge((), (None, None, None), VOLTS)
    assert (judged.answer, judged.trust, judged.chance) == (None, "again", 0.0)


def test_plausibility_looks_into_corrections_and_only_at_readings() -> None:
    assert plausible(Finding(choice="yes"), VOLTS)
    assert plausible(meaning("two forty volts"), VOLTS)
    wrong = meaning("nine hundred volts")
    assert not plausible(wrong, VOLTS)
    assert not plausible(Correction(meaning=wrong), VOLTS)  # type: ignore[arg-type]


VIEWS = st.builds(View, written=st.none() | st.floats(-40, 0), second=st.none() | st.floats(-40, 0)).map(
    lambda view: replace(view, exact=view.written is not None)
)


@given(st.lists(st.tuples(st.floats(-60, 20), VIEWS, VIEWS, st.booleans()), min_size=1, max_size=3))
def test_sure_always_means_heard_by_two_best_and_likely(told: list[tuple[float, View, View, bool]]) -> None:
    words = [FORTY, FIFTEEN, "two twenty volts"]
    some = tuple(candidate(text, *each) for text, each in zip(words, told, strict=False))
    judged = judge(some, (None, None, None), VOLTS)
    assert 0 <= judged.chance <= 1
    assert judged.answer in some
    if judged.trust == "sure":
        assert judged.hearers >= 2
        assert judged.chance >= SURE
        assert judged.chance == max(chance for _, chance in rank(some, VOLTS))
    if judged.trust == "again":
        assert judged.chance < AGAIN


@pytest.mark.parametrize(
    ("lead", "others", "trust"),
    [(3.0, 3.0, "sure"), (1.5, 3.0, "confirm"), (1.5, 8.0, "sure"), (1.0, 20.0, "confirm")],
)
def test_a_ten_that_an_ear_nearly_takes_for_its_teen_is_asked_about(lead: float, others: float, trust: str) -> None:
    """Unless the ears together are quite certain."""
    two = (
        candidate(FORTY, 20.0, exactly(-1.0), exactly(-1.0)),
        candidate("two fourteen volts", 20.0 - lead, asked(-1.0 - others), asked(-1.0 - others)),
    )
    assert judge(two, ALL_FORTY, VOLTS).trust == trust


@pytest.mark.parametrize(("ahead", "trust"), [(4.0, "sure"), (3.0, "confirm")])
def test_what_was_written_with_a_doubt_is_heard_when_asked_it_is_clearly_ahead(ahead: float, trust: str) -> None:
    """ "Two forty, volts." has a pause in it: Moonshine, asked for the whole, may bear the other ears out."""
    doubted = View(written=-2.0, second=-3.0, doubted=True)
    two = (
        candidate(FORTY, -0.2, exactly(-1.0), doubted),
        candidate(FIFTEEN, 0.0, asked(-15.0), asked(-3.0 - ahead)),
    )
    assert judge(two, ALL_FORTY, VOLTS).trust == trust
    loosely = (replace(two[0], views={**two[0].views, "moonshine": replace(doubted, doubted=False)}), two[1])
    assert judge(loosely, ALL_FORTY, VOLTS).trust == "confirm"


@pytest.mark.parametrize(("third", "trust"), [(CLEARLY - 0.25, "confirm"), (CLEARLY + 0.25, "sure")])
def test_an_odd_number_is_asked_about_unless_every_ear_heard_it_clearly(third: float, trust: str) -> None:
    words, other = "one two four oh volts", "two forty volts"
    two = (
        candidate(words, 9.0, exactly(-1.0), exactly(-1.0)),
        candidate(other, -9.0, asked(-20.0), asked(-1.0 - third)),
    )
    assert judge(two, (key(words),) * 3, VOLTS.model_copy(update={"reading": WIDE})).trust == trust


WIDE = ReadingExpectation(quantity="voltage_ac", unit="V", plausible=(0, 5000))


@pytest.mark.parametrize(
    ("written", "trust"),
    [("two two forty volts", "confirm"), ("two forty volts", "sure"), ("so two forty volts", "sure")],
)
def test_a_number_of_which_an_ear_wrote_more_is_asked_about(written: str, trust: str) -> None:
    """ "Four two two two oh eight nine" lost its "oh" for two ears, and the third wrote another "two" for it."""
    assert judge(CLEAR, ALL_FORTY, VOLTS, {"whisper": written, "moonshine": FORTY}).trust == trust
