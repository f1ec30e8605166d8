"""Few words: what is in order is said back once; "why" says what it meant. A fault always says what it means."""

from assistant.dialogue import facts as f


def filter_looked_at(visit, choice):
    visit.command("check", "filter-look")
    visit.understood()
    assert visit.question == "filter-look.filter"
    visit.choose(choice)
    judged = [fact for fact in visit.facts if isinstance(fact, f.CheckJudged) and fact.check == "filter-look"][-1]
    return judged.judgement, visit.says


def test_a_look_in_order_is_said_back_and_not_judged_aloud(diagnosing):
    judgement, says = filter_looked_at(diagnosing, "clear")
    assert judgement.verdict == "pass"
    meant = diagnosing.context.library.checks["filter-look"].outcomes[judgement.outcome].means
    assert not any(meant in said for said in says)
    diagnosing.command("why")
    assert any(said.startswith("Before: ") for said in diagnosing.says)


def test_a_fault_says_what_it_means(diagnosing):
    judgement, says = filter_looked_at(diagnosing, "blocked")
    assert judgement.verdict == "fail"
    meant = diagnosing.context.library.checks["filter-look"].outcomes[judgement.outcome].means
    assert any(meant.split()[-1] in said for said in says[1:])


def test_the_filter_is_back_when_the_look_is_over(diagnosing):
    filter_looked_at(diagnosing, "clear")
    assert all(item.thing != "air-filter" for item in diagnosing.state.off)


def test_a_reading_within_limits_is_said_good_and_why_says_the_limits(diagnosing):
    diagnosing.command("check", "supply-volts")
    diagnosing.understood()
    diagnosing.read(228.0)
    assert diagnosing.says[:2] == ["228 V.", "Good."]
    judged = [fact for fact in diagnosing.facts if isinstance(fact, f.CheckJudged)][-1]
    assert judged.judgement.verdict == "pass"
    assert judged.judgement.says.id == "judged-reading"  # the record has it whole
    diagnosing.command("why")
    assert any(said.startswith("Before: 228 volts, good; limits") for said in diagnosing.says)


def test_what_counts_as_dead_is_said_once_for_a_kind_of_voltage(diagnosing):
    diagnosing.command("check", "winding-resistance")
    diagnosing.locked_out()
    diagnosing.dead()
    diagnosing.command("check", "indoor-fuse-ohms")
    diagnosing.dead()
    said = [fact.text for fact in diagnosing.facts if isinstance(fact, f.Said)]
    assert sum(text.startswith("Dead is below 12") for text in said) == 1
    assert sum(text.startswith("Dead is below 30") for text in said) == 1
    assert "Indoor unit proved dead." in said
    assert "No charge." not in said  # the place is dead says it
