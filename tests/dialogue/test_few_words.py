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
