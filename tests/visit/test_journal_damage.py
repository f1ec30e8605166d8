"""A damaged journal: what can be read goes on, what cannot is missed and told, and nothing altered passes for true."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from assistant.dialogue import facts as f
from assistant.visit.journal import Journal, JournalReader
from tests.visit.damage import AT, WAYS, damage, filled


@pytest.fixture(scope="module")
def whole(tmp_path_factory):
    path = tmp_path_factory.mktemp("whole") / "journal.sqlite"
    return path, filled(path)


def looked_at(journal: JournalReader, written: dict[str, list[f.Fact]]) -> int:
    """How many facts there are; each must be one that was written, in its place."""
    kept = 0
    for row in journal.visits():
        for item in journal.facts(row.id):
            assert item.fact == written[row.id][item.seq - 1], "a fact was altered and passed for true"
            kept += 1
        missing = len(written[row.id]) - len(journal.facts(row.id))
        assert journal.lost(row.id) <= missing
    return kept


@pytest.mark.parametrize("seed", range(3 * len(WAYS)))
def test_whatever_was_done_to_it_the_rest_goes_on(whole, tmp_path: Path, seed: int):
    path, written = tmp_path / "journal.sqlite", whole[1]
    shutil.copyfile(whole[0], path)
    how = damage(path, seed)
    spoilt = path.read_bytes()
    total = sum(len(facts) for facts in written.values())
    with JournalReader(path) as reader:
        seen = looked_at(reader, written)
        told = reader.notices
    assert path.read_bytes() == spoilt, "reading changed the file"
    assert seen == total or told, f"{how}: {total - seen} facts are gone and nothing was told"
    assert all("\n" not in notice and notice.endswith(".") for notice in told)
    with Journal(path) as journal:
        assert looked_at(journal, written) == seen
        visit = journal.open_visit(AT.replace(year=2027), "typed")
        journal.append(visit, AT, 0.0, [f.Held(by="wait")])
        assert [item.fact for item in journal.facts(visit)] == [f.Held(by="wait")]
        for row in journal.visits():
            journal.append(row.id, AT, 99.0, [f.Released()])
    with Journal(path) as again:
        assert [notice for notice in again.notices if "damaged" in notice] == []
        assert again.facts(visit)[-1].fact == f.Released()
    aside = [file for file in tmp_path.iterdir() if "damaged" in file.name and file.suffix == ".sqlite"]
    assert not aside or aside[0].read_bytes() == spoilt
    if how in ("_one_bit", "_a_word_altered", "_a_number_altered"):
        assert seen >= total - 40, f"{how} cost {total - seen} of {total} facts"
    if how in ("_a_page_of_zeros", "_a_page_of_noise", "_first_page_gone", "_header_spoilt", "_two_pages_exchanged"):
        assert seen >= total - 60, f"{how} cost {total - seen} of {total} facts"


def test_a_schema_whose_quotation_is_no_text_is_damage(tmp_path: Path):
    """Found by the campaign: SQLite quotes the spoilt schema in its error, and Python cannot make text of it."""
    path = tmp_path / "journal.sqlite"
    filled(path, visits=1, turns=3)
    data = path.read_bytes()
    path.write_bytes(data.replace(b"tablefactfact", b"tablef\xe3ctfact"))
    assert path.read_bytes() != data
    with JournalReader(path) as reader:
        assert len(reader.facts(reader.visits()[0].id)) == 6
        assert "was damaged" in reader.notices[0]
    with Journal(path) as journal:
        journal.append(journal.visits()[0].id, AT, 9.0, [f.Said(text="on", about="remark")])


def test_a_single_bad_fact_is_left_out_and_missed(tmp_path: Path):
    path = tmp_path / "journal.sqlite"
    written = filled(path, visits=2, turns=10)
    data = path.read_bytes()
    assert data.count(b'"Turn 4: ') == 2
    path.write_bytes(data.replace(b'"Turn 4: ', b'"Turn 5: ', 1))
    with JournalReader(path) as reader:
        first, second = sorted(written)
        kept = {visit: [item.fact for item in reader.facts(visit)] for visit in written}
        spoilt = first if len(kept[first]) < 20 else second
        assert kept[spoilt] == [fact for fact in written[spoilt] if fact != written[spoilt][9]]
        assert reader.lost(spoilt) == 1
        assert reader.notices == [f"One line of visit {spoilt} can no longer be read and is left out."]
        assert reader.lost(first if spoilt == second else second) == 0


def test_an_empty_journal_is_told_and_kept(tmp_path: Path):
    path = tmp_path / "journal.sqlite"
    path.touch()
    with JournalReader(path) as reader:
        assert reader.visits() == []
        [told] = reader.notices
        assert "is empty (0 bytes)" in told
        assert "--restore" in told
    with Journal(path) as journal:
        [told] = journal.notices
        journal.open_visit(AT, "typed")
    assert "it is kept as" in told
    with Journal(path) as journal:
        assert journal.notices == []
        assert len(journal.visits()) == 1


def test_a_database_that_is_no_journal_is_set_aside(tmp_path: Path):
    import sqlite3

    path = tmp_path / "journal.sqlite"
    with sqlite3.connect(path) as db:
        db.execute("create table recipes (name)")
    with Journal(path) as journal:
        assert "was damaged: 0 visits were recovered" in journal.notices[0]
        journal.open_visit(AT, "typed")
    [aside] = [file for file in tmp_path.iterdir() if "damaged" in file.name]
    assert sqlite3.connect(aside).execute("select count(*) from recipes").fetchone() == (0,)


def test_what_was_committed_and_not_yet_in_the_file_is_recovered_too(tmp_path: Path):
    path = tmp_path / "journal.sqlite"
    journal = Journal(path)
    visit = journal.open_visit(AT, "typed")
    facts = [f.Noted(topic="site", value=str(number), words="w" * 500) for number in range(50)]
    for fact in facts:
        journal.append(visit, AT, 0.0, [fact])
    crashed = tmp_path / "crashed" / "journal.sqlite"
    crashed.parent.mkdir()
    for ending in ("", "-wal"):
        shutil.copyfile(f"{path}{ending}", f"{crashed}{ending}")
    with Journal(crashed) as recovered:  # SQLite takes it from there
        assert [item.fact for item in recovered.facts(visit)] == facts
        assert recovered.notices == []
    for ending in ("", "-wal"):
        shutil.copyfile(f"{path}{ending}", f"{crashed}{ending}")
    crashed.write_bytes(b"gone" * 1000)
    wal = crashed.with_name("journal.sqlite-wal")
    wal.write_bytes(b"gone" * 8 + wal.read_bytes()[32:])
    with Journal(crashed) as recovered:
        assert [item.fact for item in recovered.facts(visit)] == facts
        assert "1 visit was recovered; the damaged file is kept as" in recovered.notices[0]
    assert len([file for file in crashed.parent.iterdir() if file.name.endswith("-wal")]) <= 1


def test_a_file_that_is_damaged_under_ones_hands_is_set_aside_and_the_turn_kept(tmp_path: Path):
    path = tmp_path / "journal.sqlite"
    journal = Journal(path)
    visit = journal.open_visit(AT, "typed")
    facts = [f.Noted(topic="site", value=str(number), words="w" * 300) for number in range(300)]
    journal.append(visit, AT, 0.0, facts)
    journal.db.execute("pragma wal_checkpoint(truncate)")
    with path.open("r+b") as file:
        file.seek(4096)
        file.write(bytes(8 * 4096))
    journal.db.execute("pragma cache_size = 1")
    with journal.lock(visit):  # ours: that does not keep us from it
        journal.append(visit, AT, 1.0, [f.Held(by="stop")])
        kept = [item.fact for item in journal.facts(visit)]
    assert kept[-1] == f.Held(by="stop")
    assert all(fact in facts for fact in kept[:-1])
    assert len(kept) > 200
    assert "was damaged" in journal.notices[0]


def test_another_program_at_work_keeps_the_damaged_file_in_its_place(tmp_path: Path):
    import subprocess
    import sys

    path = tmp_path / "journal.sqlite"
    filled(path, visits=1, turns=2)
    root = Path(__file__).parents[2]
    code = (
        f"import sys; sys.path.insert(0, {str(root)!r}); from pathlib import Path; from assistant.visit.lock import "
        f"VisitLock; lock = VisitLock(Path({str(tmp_path / 'locks')!r}), 'x'); print(1, flush=True); sys.stdin.read()"
    )
    other = subprocess.Popen([sys.executable, "-c", code], stdin=subprocess.PIPE, stdout=subprocess.PIPE)
    other.stdout.readline()
    path.write_bytes(b"gone" * 1000)
    with pytest.raises(Exception, match="another program is using it; end that one first"):
        Journal(path)
    assert path.read_bytes() == b"gone" * 1000
    other.kill()
    other.wait()
    Journal(path).close()


def test_where_the_last_facts_are_gone_and_their_links_are_not_the_visit_goes_on(tmp_path: Path):
    """By what the links tell the next fact has its own number, and what is gone is told; nonsense tells nothing."""
    import sqlite3

    path = tmp_path / "journal.sqlite"
    [(visit, _)] = filled(path, visits=1, turns=5).items()
    db = sqlite3.connect(path, isolation_level=None)
    db.execute("drop trigger fact_stays")
    db.execute("delete from fact where seq > 8")
    db.execute("insert into chain values (?, ?, 'x')", (visit, 2**60))
    db.close()
    data = path.read_bytes()
    path.write_bytes(data.replace(b"tablefactfact", b"tablef\xe3ctfact"))
    with Journal(path) as journal:
        assert "of which 2 lines could not be read" in journal.notices[0]
        assert journal.append(visit, AT, 9.0, [f.Said(text="on", about="remark")]) == 11
        assert journal.lost(visit) == 2
