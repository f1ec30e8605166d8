"""When no part can be named: what is said is honest, and the technician's own judgement counts and is recorded."""

import pytest

from assistant.dialogue import facts as f
from assistant.dialogue.state import Stage
from assistant.language.meaning import Indication, Text
from assistant.messages.message import message

NOTHING_LEFT = "No check is left that would tell more now."


def skip_to_the_end(visit):
    """Understand every caution and skip every check until the search is over."""
    for _ in range(300):
        if visit.state.stage is not Stage.CHECK:
            return
        visit.understood()
        visit.command("skip")
    pytest.fail("the search does not end")


@pytest.fixture
def unsolved(visit):
    """A draught at the wall, and every check skipped."""
    visit.say(Text(words="the bakery in mill lane"))
    visit.choose("copper-wren-solo")
    visit.say(Indication(choice="draught-at-wall"))
    skip_to_the_end(visit)
    return visit


def test_what_remains_is_said_with_its_chance_and_with_the_skipped_check_that_would_tell(unsolved):
    assert unsolved.state.stage is Stage.UNSOLVED
    none_left, first, *_, second, question = unsolved.says[unsolved.says.index(NOTHING_LEFT) :]
    assert none_left == NOTHING_LEFT
    assert first.startswith("Most likely the wall opening is not sealed, ")
    assert first.endswith(" percent.")
    assert second == f"This was skipped and would tell: {unsolved.context.library.checks['drain-wall-draught'].title}."
    assert question.startswith("Say repair it anyway")


def test_the_likeliest_may_be_mended_on_the_technicians_judgement_and_the_record_says_whose_it_was(unsolved):
    unsolved.say(Indication(choice="mend-likeliest"))
    named = [fact for fact in unsolved.facts if isinstance(fact, f.FaultNamed)][-1]
    assert named.suspect == "wall-opening-unsealed"
    assert named.reason == message("reason-likeliest", percent=round(100 * named.probability))
    assert 0.5 < named.probability < 0.95
    assert unsolved.says[0] == "On your judgement then; the record says so."
    assert unsolved.state.stage is Stage.REPAIR
    assert unsolved.state.likeliest == ""


def test_nothing_may_be_mended_anyway_where_nothing_is_likelier_than_not(visit):
    visit.say(Text(words="the bakery in mill lane"))
    visit.choose("copper-wren-solo")
    visit.say(Indication(choice="blows-warm-cooling"))
    skip_to_the_end(visit)
    assert visit.state.likeliest == ""
    assert visit.says[-1] == "Name a check, say what else it does, or say finish."
    visit.say(Indication(choice="mend-likeliest"))
    assert visit.state.stage is Stage.UNSOLVED


def test_an_answer_that_is_its_own_verdict_is_not_said_twice(visit):
    visit.say(Text(words="the bakery in mill lane"))
    visit.choose("copper-wren-solo")
    visit.say(Indication(choice="compressor-hot"))
    visit.command("check", "restart-after-rest")
    visit.choose("unknown")
    assert visit.says.count("Nobody knows.") == 1
