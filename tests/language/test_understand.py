"""The pipeline over a net that says what it is told to: what is taken, what is asked, and what is left alone."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from assistant.language.meaning import (
    BackQuestion,
    Cannot,
    Command,
    Emergency,
    EmergencyKind,
    Expectation,
    Finding,
    Indication,
    Readings,
    Told,
    ToldAnswer,
)
from assistant.language.net import NONE, TALK, Hints, Ranked
from assistant.language.net.protocol import no_hints
from assistant.language.scope import Called, Scope, Tellable
from assistant.language.understand import understand
from tests.language.states import asks, choice

FILTER = Expectation(
    question="filter-look.filter",
    choices=(choice("clear", "it is clear"), choice("dusty", "dusty but open"), choice("blocked", "it is blocked")),
    good="clear",
)
FAN = Expectation(question="indoor-fan-look.turning", choices=(choice("strong", "it blows"), choice("still", "stands")))
VOLTS = asks("supply-volts.voltage", "voltage_ac", "V", 0, 480)
SHOWN = Expectation(
    question="visit.indication",
    choices=(choice("indoor-fan-weak", "little air"), choice("indoor-fan-still", "no air at all")),
    choice_kind="indication",
)
TELLABLE = Tellable(
    {one.question: one for one in (FILTER, FAN, VOLTS)},
    SHOWN.choices,
    called={
        FILTER.question: Called(("the filter",)),
        FAN.question: Called(("the indoor fan",)),
        VOLTS.question: Called(("supply volts",)),
        "lock-out-power.state": Called(("the lock",)),
        "indication:indoor-fan-still": Called(("the indoor fan stands",)),
    },
    twins={
        "indication:indoor-fan-still": frozenset({"indoor-fan-look.turning=choice:still"}),
        "indoor-fan-look.turning=choice:still": frozenset({"indication:indoor-fan-still"}),
    },
)
LOCK = Expectation(question="lock-out-power.state", choices=(choice("done", "locked"), choice("cannot", "cannot lock")))


class Says:
    """A net that gives these chances to these words, and nothing to all others."""

    def __init__(self, **chances: dict[str, float]) -> None:
        self.chances = {words.replace("_", " "): told for words, told in chances.items()}

    def expect(self, clauses: Sequence[str], scope: str) -> None:
        pass

    def rank(
        self, words: str, candidates: Sequence[str], scope: str, told: Sequence[str] = (), hints: Hints = no_hints
    ) -> tuple[Ranked, ...]:
        known = {
            key: chance for key, chance in self.chances.get(words, {}).items() if key in (*candidates, *told, TALK)
        }
        left = max(0.0, 1.0 - sum(known.values())) or 1e-6
        found = [*(Ranked(key, chance) for key, chance in known.items()), Ranked(NONE, left * 0.999 + 1e-9)]
        return tuple(sorted(found, key=lambda one: -one.chance))


def scope(asked: Expectation) -> Scope:
    return Scope(asked, TELLABLE)


def test_what_is_likely_is_taken_at_once() -> None:
    net = Says(light_goes_right_through={"filter-look.filter=choice:clear": 0.97})
    found = understand("Light goes right through", scope(FILTER), net)
    assert found.meaning == Finding(choice="clear")
    assert (found.doubt, found.options) == ("", ())


TWINS = {"indication:indoor-fan-still": 0.5, "indoor-fan-look.turning=choice:still": 0.48}


@pytest.mark.parametrize(
    ("asked", "meaning"),
    [
        (SHOWN, Indication(choice="indoor-fan-still")),
        (FAN, Finding(choice="still")),
        (FILTER, Told(facts=(Indication(choice="indoor-fan-still"),))),
    ],
)
def test_one_thing_of_two_names_is_taken_under_that_which_was_asked(asked: Expectation, meaning: object) -> None:
    found = understand("The indoor fan isn't turning", scope(asked), Says(**{"the indoor fan isn't turning": TWINS}))
    assert found.meaning == meaning
    assert (found.doubt, found.options) == ("", ())


def test_both_names_of_one_thing_in_a_breath_are_one_fact() -> None:
    net = Says(
        the_indoor_fan_is_out={"indication:indoor-fan-still": 0.97},
        the_indoor_fan_stands={"indoor-fan-look.turning=choice:still": 0.97},
    )
    found = understand("The indoor fan is out, the indoor fan stands", scope(FILTER), net)
    assert isinstance(found.meaning, Told)
    assert len(found.meaning.facts) == 1


def test_a_tale_of_an_emergency_is_asked_back() -> None:
    told = {"emergency:burning-smell": 0.85, "indication:indoor-fan-weak": 0.1}
    found = understand("It smelled burnt last week", scope(SHOWN), Says(it_smelled_burnt_last_week=told))
    assert found.meaning == Emergency(what="burning-smell")
    assert found.doubt
    assert found.alternatives == (Indication(choice="indoor-fan-weak"),)


def test_the_lock_is_taken_in_its_own_words_only() -> None:
    net = Says(okay={"lock-out-power.state=choice:done": 0.99})
    assert understand("Okay", scope(LOCK), net).meaning is None
    said = understand("Locked", scope(LOCK), net)
    assert (said.meaning, said.doubt) == (Finding(choice="done"), "")


def test_two_near_meanings_are_asked_as_an_either_or() -> None:
    net = Says(the_air_pants={"indication:indoor-fan-weak": 0.5, "indication:indoor-fan-still": 0.35})
    found = understand("the air pants", scope(SHOWN), net)
    assert set(found.options) == {Indication(choice="indoor-fan-weak"), Indication(choice="indoor-fan-still")}


def test_one_that_is_fairly_likely_is_asked_back() -> None:
    net = Says(sort_of_grayish_by_now={"filter-look.filter=choice:dusty": 0.7})
    found = understand("sort of grayish by now", scope(FILTER), net)
    assert found.meaning == Finding(choice="dusty")
    assert found.doubt
    assert not found.options


def test_nothing_near_is_nothing_and_talk_is_known_for_talk() -> None:
    assert understand("blue moon", scope(FILTER), Says()).meaning is None
    talk = understand("nice dog", scope(FILTER), Says(nice_dog={TALK: 0.95}))
    assert talk.meaning is None
    assert talk.talk


def test_an_emergency_needs_less_to_be_believed() -> None:
    found = understand("it bit me", scope(FILTER), Says(it_bit_me={"emergency:shock": 0.8}))
    assert found.meaning == Emergency(what="shock")
    assert not found.doubt


def test_an_emergency_as_likely_as_what_a_unit_may_show_is_asked_back_alone() -> None:
    told = {"indication:indoor-fan-weak": 0.53, "emergency:gas-alarm": 0.45}
    found = understand("that thing wails", scope(SHOWN), Says(that_thing_wails=told))
    assert found.meaning == Emergency(what="gas-alarm")
    assert found.doubt
    assert not found.options


@pytest.mark.parametrize(
    ("called", "what"),
    [
        ("gas alarm", "gas-alarm"),
        ("smoke", "smoke"),
        ("he's down", "person-down"),
        ("the gas alarm", "gas-alarm"),
        ("gas is hissing out at the indoor unit", "leak-in-room"),
        ("the freon is spraying out in here", "leak-in-room"),
        ("it just zapped me", "shock"),
    ],
)
def test_what_is_called_out_goes_before_what_a_unit_may_show(called: str, what: EmergencyKind) -> None:
    net = Says(**{called.replace(" ", "_"): {"indication:indoor-fan-weak": 0.6, f"emergency:{what}": 0.4}})
    found = understand(called, scope(SHOWN), net)
    assert found.meaning == Emergency(what=what)
    assert not found.doubt


def test_an_answer_with_an_addition_gives_both() -> None:
    net = Says(
        it_is_packed={"filter-look.filter=choice:blocked": 0.97},
        the_fan_sits_still={"indoor-fan-look.turning=choice:still": 0.96},
    )
    found = understand("it is packed, and the fan sits still", scope(FILTER), net)
    fact = ToldAnswer(question="indoor-fan-look.turning", answer=Finding(choice="still"))
    assert found.meaning == Told(answer=Finding(choice="blocked"), facts=(fact,))


def test_a_reading_with_an_addition_gives_both() -> None:
    net = Says(the_fan_sits_still={"indoor-fan-look.turning=choice:still": 0.96})
    meaning = understand("two forty one, and the fan sits still", scope(VOLTS), net).meaning
    assert isinstance(meaning, Told)
    assert isinstance(meaning.answer, Readings)
    assert meaning.answer.items[0].value == 241


def whirring(chance: float) -> Says:
    return Says(
        it_is_packed={"filter-look.filter=choice:blocked": 0.97},
        the_fan_blows={"indoor-fan-look.turning=choice:strong": chance},
        **{"it_is_packed,_the_fan_blows": {"filter-look.filter=choice:blocked": 0.9}},
    )


def test_an_unlikely_addition_is_no_fact() -> None:
    found = understand("it is packed, the fan blows", scope(FILTER), whirring(0.3))
    assert found.meaning == Finding(choice="blocked")


def test_a_doubtful_addition_is_asked_back_with_the_answer() -> None:
    found = understand("it is packed, the fan blows", scope(FILTER), whirring(0.7))
    assert isinstance(found.meaning, Told)
    assert found.meaning.answer == Finding(choice="blocked")
    assert found.doubt


def test_a_clause_takes_the_part_that_the_one_before_it_names() -> None:
    net = Says(
        **{
            "the filter is clear": {"filter-look.filter=choice:clear": 0.99},
            "indoor fan it stands": {"indoor-fan-look.turning=choice:still": 0.9},
            "filter it stands": {"indoor-fan-look.turning=choice:still": 0.9},
        }
    )
    found = understand("The filter is clear, the indoor fan hums, it stands", scope(VOLTS), net)
    assert isinstance(found.meaning, Told)
    assert len(found.meaning.facts) == 2
    assert found.doubt
    other = understand("The filter is clear, it stands", scope(VOLTS), net)
    assert len(getattr(other.meaning, "facts", ())) == 1  # what a filter does says nothing of the fan


def test_what_is_said_of_one_part_is_meant_of_the_next() -> None:
    told = {"the filter is clear": {"filter-look.filter=choice:clear": 0.99}, "so's the indoor fan": {}}
    told |= {"the indoor fan is clear": {"indoor-fan-look.turning=choice:strong": 0.9}}
    found = understand("The filter is clear and so's the indoor fan", scope(VOLTS), Says(**told))
    assert found.meaning == Told(
        facts=(
            ToldAnswer(question="filter-look.filter", answer=Finding(choice="clear")),
            ToldAnswer(question="indoor-fan-look.turning", answer=Finding(choice="strong")),
        )
    )
    assert found.doubt


def test_a_clause_that_words_the_answer_otherwise_leaves_the_rest_standing() -> None:
    whole = "dusty but light comes through, indoor fan's out though"
    net = Says(
        **{
            whole: {"filter-look.filter=choice:dusty": 0.99},
            "dusty": {"filter-look.filter=choice:dusty": 0.99},
            "light comes through": {"filter-look.filter=choice:clear": 0.97},
            "indoor fan's out though": {"indication:indoor-fan-still": 0.99},
        }
    )
    found = understand(whole, scope(FILTER), net)
    assert isinstance(found.meaning, Told)
    assert found.meaning.answer == Finding(choice="dusty")
    assert found.meaning.facts == (Indication(choice="indoor-fan-still"),)
    assert found.doubt


def test_an_answer_that_the_rest_turns_round_is_asked_which() -> None:
    clear, blocked = "filter-look.filter=choice:clear", "filter-look.filter=choice:blocked"
    net = Says(
        you_see_through={clear: 0.97}, it_is_shut={blocked: 0.9}, **{"you_see_through,_it_is_shut": {blocked: 0.98}}
    )
    found = understand("you see through, it is shut", scope(FILTER), net)
    assert set(found.options) == {Finding(choice="clear"), Finding(choice="blocked")}


def test_a_number_of_another_quantity_is_never_taken_at_once() -> None:
    found = understand("compressor amps were twelve", scope(VOLTS), Says())
    assert found.meaning is None or found.doubt or found.options


def test_a_bare_no_before_a_fact_is_the_answer() -> None:
    dims = Expectation(question="lights-look.lights", choices=(choice("yes", "yes"), choice("no", "no")))
    net = Says(the_fan_sits_still={"indoor-fan-look.turning=choice:still": 0.96})
    found = understand("no, but the fan sits still", scope(dims), net)
    fact = ToldAnswer(question="indoor-fan-look.turning", answer=Finding(choice="still"))
    assert found.meaning == Told(answer=Finding(choice="no"), facts=(fact,))


def test_a_fact_of_a_part_that_nobody_names_is_none() -> None:
    """ "It sits still" may be anything; "the fan sits still" is the fan."""
    told = {"indoor-fan-look.turning=choice:still": 0.96}
    unnamed = understand("it sits still", scope(FILTER), Says(it_sits_still=told))
    named = understand("the fan sits still", scope(FILTER), Says(the_fan_sits_still=told))
    assert (unnamed.meaning, unnamed.options, unnamed.talk) == (None, (), False)
    assert (named.meaning, named.doubt) != (None, "")
    assert not named.doubt


def test_what_falls_away_makes_nothing_else_likelier() -> None:
    net = Says(it_sits_still={"indoor-fan-look.turning=choice:still": 0.7, "filter-look.filter=choice:clear": 0.28})
    found = understand("it sits still", scope(FILTER), net)
    assert found.meaning is None


def test_a_clause_that_names_another_part_leaves_the_sentence_in_doubt() -> None:
    net = Says(
        the_fan_sits_still={"indoor-fan-look.turning=choice:still": 0.97},
        the_filter_is_like_that={"filter-look.filter=choice:clear": 0.3, "filter-look.filter=choice:blocked": 0.3},
    )
    net.chances["the fan sits still, and the filter is like that"] = {"indoor-fan-look.turning=choice:still": 0.97}
    found = understand("the fan sits still, and the filter is like that", scope(VOLTS), net)
    assert isinstance(found.meaning, Told)
    assert found.doubt


def test_a_number_alone_tells_no_symptom() -> None:
    told = {"indication:indoor-fan-weak": 0.95}
    assert understand("seventy five degrees", scope(SHOWN), Says(seventy_five_degrees=told)).meaning is None


def test_a_reading_of_another_check_is_told_by_its_name() -> None:
    found = understand("I've got two forty one leg to leg", scope(FILTER), Says())
    assert isinstance(found.meaning, Told)
    (fact,) = found.meaning.facts
    assert isinstance(fact, ToldAnswer)
    assert fact.question == "supply-volts.voltage"
    assert isinstance(fact.answer, Readings)
    assert fact.answer.items[0].value == 241


@pytest.mark.parametrize(
    "words",
    [
        "it should be two forty leg to leg",  # nobody read that
        "nothing at the supply",  # nothing of what?
        "leg to leg is nine hundred thousand",  # no instrument shows it
        "the fuse box is forty dollars",
    ],
)
def test_what_was_not_read_is_no_reading(words: str) -> None:
    assert understand(words, scope(FILTER), Says()).meaning is None


def test_what_is_named_and_what_it_reads_may_stand_apart() -> None:
    found = understand("I did the supply already, two forty one volts leg to leg", scope(FILTER), Says())
    assert isinstance(found.meaning, Told)
    assert len(found.meaning.facts) == 1


def test_a_command_of_the_same_words_does_not_win_over_a_likely_answer() -> None:
    hums = Expectation(question="filter-look.filter", choices=(choice("silent", "it is silent"),))
    found = understand("quiet", scope(hums), Says(quiet={"filter-look.filter=choice:silent": 0.9}))
    assert found.options or found.meaning == Finding(choice="silent")


@pytest.mark.parametrize(
    "words", ["all good", "looks fine", "they look good", "they're all fine", "It's clear.", "clear"]
)
def test_where_one_choice_is_good_good_means_it(words: str) -> None:
    found = understand(words, scope(FILTER))
    assert found.meaning == Finding(choice="clear")
    assert not found.doubt


@pytest.mark.parametrize(
    ("words", "meaning"),
    [
        ("I don't know", Cannot(reason="dont-know")),
        ("can't see it from here", Cannot(reason="cant-see")),
        ("we can't get to it", Cannot(reason="cant-reach")),
        ("I have no megger with me", Cannot(reason="no-meter")),
        ("not right now", Cannot(reason="not-now")),
        ("there isn't one", Cannot(reason="not-there")),
        ("which pins", BackQuestion(topic="which-pins")),
        ("what should I read", BackQuestion(topic="expected-value")),
        ("how sure are you", BackQuestion(topic="how-sure")),
        ("he's passed out", None),
        ("somebody passed out", Emergency(what="person-down")),
        ("what can I say", Command(name="what-can-i-say")),
    ],
)
@pytest.mark.parametrize("asked", [FILTER, VOLTS, SHOWN], ids=lambda one: one.question)
def test_what_may_be_said_whatever_is_asked(words: str, meaning: object, asked: Expectation) -> None:
    assert understand(words, scope(asked)).meaning == meaning


def test_of_two_symptoms_in_two_clauses_it_is_asked_which_or_both() -> None:
    told = {
        "little air comes": {"indication:indoor-fan-weak": 0.95},
        "it stands": {"indication:indoor-fan-still": 0.95},
    }
    whole = {"little air comes and it stands": {"indication:indoor-fan-still": 0.99}}
    found = understand("Little air comes and it stands", scope(SHOWN), Says(**told, **whole))
    weak, still = Indication(choice="indoor-fan-weak"), Indication(choice="indoor-fan-still")
    assert found.options == (weak, still, Told(answer=weak, facts=(still,)))


def test_what_a_sentence_ends_with_counts_where_it_is_what_all_of_it_says() -> None:
    told = {"pushed it": {"indoor-fan-look.turning=choice:strong": 0.97}}
    told |= {"it stands": {"indoor-fan-look.turning=choice:still": 0.99}}
    told |= {"pushed it, it stands": {"indoor-fan-look.turning=choice:still": 0.99}}
    found = understand("Pushed it, it stands", scope(FAN), Says(**told))
    assert (found.meaning, found.options, found.doubt) == (Finding(choice="still"), (), "")
    praised = understand(
        "It blows, cooling is fine",
        scope(FAN),
        Says(
            it_blows={"indoor-fan-look.turning=choice:strong": 0.97},
            cooling_is_fine={"indoor-fan-look.turning=choice:still": 0.99},
            **{"it blows, cooling is fine": {"indoor-fan-look.turning=choice:still": 0.99}},
        ),
    )
    assert len(praised.options) == 2


def test_a_number_of_nobody_knows_what_leaves_a_fact_to_be_asked_back() -> None:
    told = {"the filter is clear": {"filter-look.filter=choice:clear": 0.99}}
    told |= {"the filter is clear, ninety five of them": {"filter-look.filter=choice:clear": 0.99}}
    assert understand("The filter is clear, ninety five of them", scope(FAN), Says(**told)).doubt
    assert not understand("The filter is clear", scope(FAN), Says(**told)).doubt


METER = Expectation(
    question="prove-dead.tried", choices=(choice("yes", "yes", "still good"), choice("no", "no", "it shows nothing"))
)
BREAKER = Expectation(
    question="restore-power.state", choices=(choice("done", "power is on"), choice("trips", "it trips"))
)
OF_ENERGY = Tellable(
    {},
    called={
        LOCK.question: Called(("lock out the power",), "Say locked when dead."),
        METER.question: Called(("prove it dead",), "Meter still good on a live source?"),
        BREAKER.question: Called(("switch the power on",), "Say power is on, or it trips."),
    },
)


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        (LOCK, "okay, tag's on, lock's on, she's dead"),
        (LOCK, "got my padlock on it"),
        (METER, "yep, the meter reads fine on the live outlet"),
        (BREAKER, "okay juice is back on"),
    ],
)
def test_what_shares_a_word_with_a_question_of_the_power_is_asked_back(asked: Expectation, words: str) -> None:
    found = understand(words, Scope(asked, OF_ENERGY), Says())
    assert found.meaning == Finding(choice=asked.choices[0].id)
    assert found.doubt


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        (LOCK, "almost locked"),
        (LOCK, "I'm going to lock it"),
        (LOCK, "is it locked"),
        (LOCK, "the lock is on and it's still running"),
        (LOCK, "the customer is here"),
        (METER, "the meter says it's still live"),
        (METER, "it is on"),
        (METER, "the meter works but the bus is still hot"),
    ],
)
def test_what_denies_asks_or_tells_of_power_gives_no_safety(asked: Expectation, words: str) -> None:
    sure = {f"{asked.question}=choice:{asked.choices[0].id}": 0.99}
    assert understand(words, Scope(asked, OF_ENERGY), Says(**{words.lower(): sure})).meaning is None


@pytest.mark.parametrize(
    "words", ["Tom Berry takes over", "handing over to Tom", "my colleague Sam is taking over now"]
)
def test_somebody_takes_over_by_his_name(words: str) -> None:
    assert understand(words, scope(VOLTS), Says()).meaning == Command(name="take-over")


def test_a_part_takes_over_from_nobody() -> None:
    assert understand("the indoor fan takes over", scope(VOLTS), Says()).meaning is None


def test_a_request_is_no_name_and_a_name_no_request() -> None:
    profile = Expectation(question="visit.profile", choices=(choice("solo", "copper wren solo"),), text=True)
    net = Says(
        **{
            "can you say that again please": {"command:repeat": 0.99},
            "the one by the pool": {"command:repeat": 0.8},
            "stop n shop": {"command:stop": 0.99},
        }
    )
    assert understand("Can you say that again please", scope(profile), net).meaning == Command(name="repeat")
    for name in ("The one by the pool", "Stop n shop"):
        found = understand(name, scope(profile), net).meaning
        assert found is not None
        assert found.kind == "text"
