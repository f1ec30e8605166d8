"""Cautions: how much of them is said, when they count, and that nothing else is open beside one."""

import re

import pytest

from assistant.dialogue import facts as f
from assistant.language.meaning import Command, Correction, Finding

#: What a lock-out and a proof must say, the first time and the second; words that no shortening may lose.
FIRST = {
    "stop by the remote": r"remote",
    "stand aside": r"stand aside",
    "open": r"\bopen\b",
    "second feed": r"second feed|both feeds",
    "lock and tag": r"lock\b.*tag",
    "keep the key": r"key",
    "try to start": r"try to start",
    "as live": r"as live|it as live",
    "gloves and glasses": r"gloves.*glasses",
    "rated meter": r"rated meter",
    "one hand": r"one hand",
    "charged capacitors": r"capacitors.*charge",
    "meter tried before": r"try the rated meter|meter tried",
    "mains line to line and to ground": r"line to line, then to ground",
    "where": r"outdoor supply terminals",
    "stored charge": r"dc volts",
    "ladder": r"ladder tied.*non-conductive",
    "edge": r"near an edge, clip|clip on at edges",
    "meter tried after": r"meter still good",
}
#: Spoken words from the lock-out to the first probe (issue 17), and to the work itself.
FIRST_WORDS, AGAIN_WORDS = 90, 50
#: The whole of it, read-backs and verdicts included.
WHOLE_FIRST, WHOLE_AGAIN = 155, 105


def words(texts):
    return sum(len(text.replace("0.3 V", "zero point three volts").split()) for text in texts)


def said(facts):
    return [fact.text for fact in facts if isinstance(fact, f.Said)]


def lock_out_and_prove(visit):
    """From a live unit to a bus proved dead; what was said to the first probe, and in all."""
    start = len(visit.facts)
    visit.command("check", "prove-dead")
    visit.understood()
    visit.choose("done")
    visit.understood()
    to_probe = said(visit.facts[start:])[1:]  # without the name of the check, read back
    visit.say(visit.readings(0.3, 0.3))
    visit.pass_time(4000)
    visit.read(3.0)
    before = len(visit.facts)
    visit.choose("yes")
    proved = next(place for place, fact in enumerate(visit.facts) if place >= before and fact.kind == "energy-changed")
    return to_probe, said(visit.facts[start : proved + 2])


@pytest.fixture
def two_lock_outs(diagnosing):
    first = lock_out_and_prove(diagnosing)
    diagnosing.command("check", "restore-power")
    diagnosing.choose("done")  # all back on
    diagnosing.understood()
    diagnosing.choose("done")
    second = lock_out_and_prove(diagnosing)
    return first, second


def test_a_lock_out_is_short_and_leaves_nothing_dangerous_out(two_lock_outs, capsys):
    rows = []
    for name, (to_probe, whole), (most, most_whole) in zip(
        ("first", "second"), two_lock_outs, ((FIRST_WORDS, WHOLE_FIRST), (AGAIN_WORDS, WHOLE_AGAIN)), strict=True
    ):
        rows.append((name, words(to_probe), most, words(whole), most_whole))
        text = " ".join(whole).lower()
        missing = [what for what, pattern in FIRST.items() if not re.search(pattern, text)]
        assert not missing, f"the {name} leaves out {missing}: {text}"
        assert name == "second" or text.count("dead is below") == 2, "what counts as dead is not said"
    print("| lock-out | words to the first probe | at most | words to proved dead | at most |")
    for row in rows:
        print("| " + " | ".join(map(str, row)) + " |")
    for name, to_probe, most, whole, most_whole in rows:
        assert to_probe <= most, name
        assert whole <= most_whole, name


def test_the_same_within_the_same_work_is_a_reminder_and_after_a_changeover_whole_again(proving_dead):
    visit = proving_dead
    visit.dead()
    library = visit.context.library
    static = library.precautions["board-static"]
    visit.command("check", "winding-resistance")
    visit.understood()
    assert " ".join(static.say.split()) in visit_said(visit)
    start = len(visit.facts)
    visit.command("check", "outdoor-board-look")
    visit.understood()
    here = said(visit.facts[start:])
    assert " ".join(static.say.split()) not in here
    assert any(text.startswith("Mind: ") and static.short in text for text in here)


def visit_said(visit):
    return said(visit.facts)


def waiting(visit):
    visit.command("check", "prove-dead")
    visit.choose("done")
    assert visit.state.acknowledging
    return visit


@pytest.mark.parametrize("choice", ["yes", "no", "done", "right"])
def test_only_its_own_acknowledgement_counts(diagnosing, choice):
    visit = waiting(diagnosing)
    visit.choose(choice)
    assert visit.state.acknowledging
    assert visit.says == ["Say understood first."]


def test_an_acknowledgement_that_is_not_sure_does_not_count(diagnosing):
    visit = waiting(diagnosing)
    visit.say(Finding(choice="understood"), trust="confirm")
    assert visit.state.acknowledging
    visit.choose("understood")
    assert not visit.state.acknowledging


def test_a_correction_is_not_opened_beside_a_caution(diagnosing):
    """ "Yes" to "what should it be?" was once taken for "understood" to lock and tag."""
    visit = waiting(diagnosing)
    for meaning in (Command(name="correction"), Correction(), Correction(meaning=Finding(choice="yes"))):
        visit.say(meaning)
        assert visit.says == ["Say understood first."] or visit.state.misheard >= 3
        assert visit.state.correcting is None
        visit.choose("yes")
        assert visit.state.acknowledging


def test_a_reading_beside_a_caution_is_told_what_comes_first(diagnosing):
    visit = waiting(diagnosing)
    visit.say(None, trust="again")
    assert visit.says == ["Say understood first."]


def test_a_doubtful_command_is_not_asked_back_beside_a_caution(diagnosing):
    visit = waiting(diagnosing)
    visit.say(Command(name="skip"), trust="confirm")
    assert visit.state.unconfirmed is None
    assert visit.state.acknowledging


def test_finishing_is_asked_alone_and_after_no_the_caution_is_said_again(diagnosing):
    visit = waiting(diagnosing)
    visit.command("finish")
    assert not visit.state.acknowledging
    visit.choose("no")
    assert visit.state.acknowledging
    assert any("deadly charge" in text for text in visit.says)


@pytest.mark.parametrize("name", ["correction", "plate", "take-over", "what-is-left", "duties"])
def test_finishing_that_a_request_leaves_open_lets_no_caution_go(diagnosing, name):
    visit = waiting(diagnosing)
    visit.command("finish")
    visit.command(name)
    if visit.state.finishing:
        visit.choose("no")
    assert visit.state.acknowledging
    assert any("deadly charge" in text for text in visit.says)


@pytest.mark.parametrize("minutes", [1, 240])
def test_a_hold_during_a_caution_says_it_again(diagnosing, minutes):
    visit = waiting(diagnosing)
    visit.command("wait")
    visit.pass_time(60 * minutes)
    visit.command("resume")
    if minutes > 15:
        assert not visit.state.power.locked
        assert visit.question == "lock-out-power.state"
    else:
        assert any("deadly charge" in text for text in visit.says)
        assert visit.state.acknowledging


@pytest.mark.parametrize(("seconds", "keeps"), [(600, True), (3600 * 4, False)])
def test_a_long_hold_at_a_dead_place_repeats_lock_measurement_and_caution(proving_dead, seconds, keeps):
    visit = proving_dead
    visit.dead()
    visit.command("check", "winding-resistance")
    visit.understood()
    visit.command("wait")
    visit.pass_time(seconds)
    visit.command("resume")
    assert (visit.state.power.at("outdoor") == "proved-dead") == keeps
    if not keeps:
        assert visit.question == "lock-out-power.state"
        visit.locked_out()
        assert visit.question == "mains-dead-outdoor.mains"


def test_the_fan_is_cautioned_whole_again_after_each_return_of_the_power(proving_dead):
    visit = proving_dead
    visit.dead()
    for _ in range(2):
        start = len(visit.facts)
        visit.command("check", "compressor-listen")
        visit.understood()
        visit.choose("done")
        visit.understood()
        visit.choose("done")
        visit.understood()
        assert any("can start" in text for text in said(visit.facts[start:])), said(visit.facts[start:])
        visit.command("check", "winding-resistance")
        visit.locked_out()
        visit.dead()


def test_going_back_says_each_caution_once_and_the_instruction_again(diagnosing):
    visit = diagnosing
    visit.command("check", "prove-dead")
    visit.locked_out()
    visit.say(visit.readings(0.3, 0.3))
    visit.command("go-back")
    assert "Outdoor supply terminals." in visit.says
    visit.say(visit.readings(0.3, 0.3))
    visit.pass_time(4000)
    visit.read(3.0)
    visit.choose("yes")
    visit.command("go-back")  # the meter is asked after once more, and the whole proof is made anew
    topics = [name for text in visit.says for name in ("short", "ladder", "edge") if name in text.lower()]
    assert visit.question.startswith("prove-dead.")
    assert sorted(topics) == sorted(set(topics))


@pytest.mark.parametrize(("check", "open_"), [("bus-volts", True), ("compressor-listen", False)])
def test_a_cover_that_stays_off_is_not_said_to_be_on(proving_dead, check, open_):
    visit = proving_dead
    visit.dead()
    start = len(visit.facts)
    visit.command("check", check)
    visit.understood()
    if visit.question == "put-back.state":  # not where the one thing that is off stays off
        visit.choose("done")
        visit.understood()
    assert visit.question == "restore-power.state"
    told = " ".join(said(visit.facts[start:]))
    assert ("The open unit will be live" in told, "covers are on" in told) == (open_, not open_)


def test_who_goes_back_to_switching_on_hears_first_what_comes_before_power(proving_dead):
    """And the power counts as having come on anew: the live step after it has its cautions whole, not as a reminder."""
    visit = proving_dead
    visit.dead()
    visit.command("check", "supply-volts")
    while visit.question != "restore-power.state":
        visit.choose("done") if visit.question == "put-back.state" else visit.understood()
    visit.choose("done")
    visit.understood()
    live = visit.question
    assert not visit.state.power.locked
    visit.command("go-back")
    order = [text for text in visit.says if "switch on" in text.lower()]
    assert not order or visit.says.index(order[0]) > max(
        at for at, text in enumerate(visit.says) if "tools out" in text.lower()
    )
    visit.understood()
    assert any("switch on" in text.lower() for text in visit.says)
    visit.choose("done")
    assert not any(text.startswith("Mind:") for text in visit.says), visit.says
    assert "Say understood." in visit.says
    visit.understood()
    assert visit.question == live
