"""A changed visit or file is noticed; an untouched one is not."""

import json
import sqlite3

import pytest

from assistant.dialogue import facts as f
from assistant.record.amend import AmendError, amend
from assistant.record.build import build
from assistant.record.forms import write
from assistant.record.verify import FACTS, VerifyError, facts_file, file
from assistant.visit.journal import Journal
from tests.record.material import Told


@pytest.fixture
def kept(tmp_path, library):
    told = Told(library).arrive().check("supply-volts", voltage=229.0).close(outcome="nothing found")
    journal, visit = told.journal(tmp_path / "journal.sqlite")
    yield journal, visit
    journal.close()


def altered(journal, statement, *values):
    """As somebody with the file in hand would: the triggers do not stop them."""
    db = journal.db
    for name in ("fact_is_final", "fact_stays", "chain_is_final", "chain_stays"):
        db.execute(f"drop trigger if exists {name}")
    db.execute(statement, values)


def test_an_untouched_visit_is_whole(kept):
    journal, visit = kept
    found = journal.verified(visit)
    assert found.wrong == ()
    assert found.facts == journal.last_seq(visit)
    assert journal.facts(visit)[-1].chain == found.last


@pytest.mark.parametrize(
    ("statement", "told"),
    [
        ("update fact set body = replace(body, '229', '231'), mark = null where seq = 12", "Line"),
        ("update fact set at = '2026-03-04T09:31:00' where seq = 5", "Line 5"),
        ("delete from fact where seq = 7", "missing"),
        ("delete from fact where seq = (select max(seq) from fact)", "missing"),
        ("update visit set origin = 'replay'", "Line 1"),
        ("delete from chain where seq = 4", "no link"),
    ],
)
def test_whatever_is_changed_in_the_journal_is_noticed(kept, statement, told):
    journal, visit = kept
    journal.db.execute("pragma foreign_keys = off")
    altered(journal, statement)
    wrong = journal.verified(visit).wrong
    assert wrong
    assert told in " ".join(wrong)


def test_a_written_record_is_proved_and_a_changed_one_noticed(kept, library, tmp_path):
    journal, visit = kept
    record = build(journal.row(visit), journal.facts(visit), library)
    assert record.seal.chain == journal.verified(visit).last
    paths = {path.suffix: path for path in write(record, tmp_path / "out", ("json", "html", "csv"))}
    for path in paths.values():
        assert file(path, journal)[1] == []
    fields = json.loads(paths[".json"].read_text())
    fields["answers"][0]["value"] = 240.0
    paths[".json"].write_text(json.dumps(fields))
    assert any("was changed" in sentence for sentence in file(paths[".json"], None)[1])
    paths[".html"].write_text(paths[".html"].read_text().replace("229", "231"))
    assert file(paths[".html"], journal)[1]


def test_a_record_of_other_facts_does_not_fit_the_journal(kept, library, tmp_path):
    from assistant.record.seal import sealed

    journal, visit = kept
    record = build(journal.row(visit), journal.facts(visit), library)
    forged = record.seal.model_copy(update={"chain": "0" * 64})
    (path,) = write(sealed(record.model_copy(update={"site": "elsewhere", "seal": forged})), tmp_path / "x", ("json",))
    assert file(path, None)[1] == []  # its own hashes fit: only the journal tells
    assert any("does not fit line" in sentence for sentence in file(path, journal)[1])


def test_exported_facts_are_proved_anywhere(kept, tmp_path):
    journal, visit = kept
    path = tmp_path / FACTS
    path.write_text(facts_file(journal, visit))
    assert file(path, None)[1] == []
    path.write_text(path.read_text().replace("229.0", "231.0"))
    assert file(path, None)[1]
    lines = facts_file(journal, visit).splitlines(keepends=True)
    path.write_text("".join(lines[:4] + lines[5:]))
    assert file(path, None)[1]


def test_what_is_no_record_is_said_so(tmp_path):
    for name, text in (("a.json", "{}"), ("b.jsonl", "[]\n"), ("c.pdf", "x")):
        (tmp_path / name).write_text(text)
        with pytest.raises(VerifyError):
            file(tmp_path / name, None)
    with pytest.raises(VerifyError, match="cannot be read"):
        file(tmp_path / "gone.json", None)


def test_an_amendment_is_a_new_fact_and_the_chain_holds(kept, library):
    journal, visit = kept
    before = [item.fact for item in journal.facts(visit)]
    fact = amend(journal, library, visit, "1", "0.231 kV", "Dana", "misread the display")
    assert (fact.was, fact.now, fact.value, fact.unit) == ("229 V", "0.231 kV", 0.231, "kV")
    amend(journal, library, visit, "1", "230", "Dana", "measured again")
    facts = [item.fact for item in journal.facts(visit)]
    assert facts[: len(before)] == before
    assert [item.was for item in facts[len(before) :]] == ["229 V", "0.231 kV"]
    assert journal.verified(visit).wrong == ()
    record = build(journal.row(visit), journal.facts(visit), library)
    assert [change.now for change in record.amendments] == ["0.231 kV", "230 V"]
    assert journal.row(visit).closed


@pytest.mark.parametrize(
    ("about", "now", "who", "why", "told"),
    [
        ("99", "1 V", "Dana", "x", "no answer no. 99"),
        ("1", "many", "Dana", "x", "does not begin with a number"),
        ("1", "4 kg", "Dana", "x", "not a unit of AC voltage"),
        ("weather", "fine", "Dana", "x", "cannot be amended"),
        ("site", "the mill", " ", "x", "who amends it"),
    ],
)
def test_what_cannot_be_amended_says_why(kept, library, about, now, who, why, told):
    journal, visit = kept
    with pytest.raises(AmendError, match=told):
        amend(journal, library, visit, about, now, who, why)


def test_an_open_visit_is_corrected_by_voice(tmp_path, library):
    journal, visit = Told(library).arrive().journal(tmp_path / "j.sqlite")
    with journal, pytest.raises(AmendError, match="still open"):
        amend(journal, library, visit, "site", "the mill", "Dana", "wrong")


def test_links_survive_the_repair_of_a_damaged_journal(tmp_path, library):
    path = tmp_path / "journal.sqlite"
    journal, visit = Told(library).arrive().check("supply-volts", voltage=229.0).journal(path)
    last = journal.verified(visit).last
    journal.db.execute("pragma wal_checkpoint(truncate)")
    journal.close()
    data = bytearray(path.read_bytes())
    data[:100] = bytes(100)
    path.write_bytes(bytes(data))
    with Journal(path) as repaired:
        assert "was damaged" in repaired.notices[0]
        assert repaired.verified(visit).wrong == ()
        assert repaired.verified(visit).last == last
        assert [x.fact for x in repaired.facts(visit)][-1].kind == "said"


def test_old_journals_are_linked_as_they_are_brought_up_to_date(tmp_path):
    import gzip
    from pathlib import Path

    for old in sorted((Path(__file__).parents[1] / "visit" / "journals").glob("*.gz")):
        path = tmp_path / old.name[:-3]
        path.write_bytes(gzip.decompress(old.read_bytes()))
        with Journal(path) as journal:
            for row in journal.visits():
                assert journal.verified(row.id).wrong == ()
                assert journal.verified(row.id).facts == row.facts
            db = sqlite3.connect(path)
            with pytest.raises(sqlite3.Error, match="append-only"):
                db.execute("update chain set link = ''")


def test_an_amended_fact_is_known():
    assert f.FACT.validate_json(f.Amended(about="site", was="a", now="b", who="c", why="d").model_dump_json())
