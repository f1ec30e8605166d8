"""Sound is kept only where it was asked for, belongs to the words it became, and is deleted by command and by age."""

from __future__ import annotations

import json
import os
import time
from datetime import datetime
from pathlib import Path

import numpy as np
import pytest
import soundfile as sf

from assistant.commands.main import main
from assistant.dialogue import facts as f
from assistant.hearing.sound.audio import SAMPLE_RATE
from assistant.language.meaning import Finding, Heard, Text
from assistant.visit import sounds
from assistant.visit.reading import Stamped
from tests.visit.test_conversation import Talk

VISIT = "2026-03-04-1"


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("LADDERSIDE_HOME", str(tmp_path / "home"))
    return tmp_path / "home"


def kept(home: Path) -> list[str]:
    return sorted(str(file.relative_to(home)) for file in home.rglob("*.flac"))


def keep(visit: str, *numbers: int, days_ago: float = 0.0) -> None:
    keeper = sounds.Keeper(visit, lambda what: pytest.fail(what.id))
    for number in numbers:
        keeper.keep(number, np.zeros(1600, np.float32), SAMPLE_RATE)
        file = Path(os.environ["LADDERSIDE_HOME"]) / sounds.name(visit, number)
        os.utime(file, (time.time() - days_ago * 86_400,) * 2)


def test_nothing_is_kept_unless_it_was_asked_for(context, tmp_path, home):
    talk = Talk(context, tmp_path)
    talk.hear_out()
    talk.say(Text(words="mill lane"))
    assert kept(home) == []


def test_what_was_taken_is_kept_beside_its_words_and_talk_with_the_customer_is_not(context, tmp_path, home):
    talk = Talk(context, tmp_path)
    talk.loop.keeper = sounds.Keeper(talk.loop.session.visit, lambda what: pytest.fail(what.id))
    talk.hear_out()
    talk.say(Text(words="mill lane"), words="mill lane", seconds=2.0)
    talk.hear_out()
    talk.command("wait")
    talk.hear_out()
    talk.say(Text(words="the customer is here"), words="the customer is here")
    visit = talk.loop.session.visit
    said = {item.fact.heard.words: item.seq for item in talk.journal.facts(visit) if item.fact.kind == "words-heard"}
    assert set(said) == {"mill lane", "wait"}
    assert kept(home) == sorted(sounds.name(visit, number) for number in said.values())
    file = home / sounds.name(visit, said["mill lane"])
    assert sf.info(file).duration == pytest.approx(2.0)
    assert file.stat().st_mode & 0o777 == 0o600
    assert file.parent.stat().st_mode & 0o777 == 0o700


def test_a_sound_that_cannot_be_kept_is_told_once_and_stops_nothing(context, tmp_path, home):
    home.mkdir()
    (home / "audio").write_text("a file where a folder should be")
    talk, told = Talk(context, tmp_path), []
    talk.loop.keeper = sounds.Keeper(talk.loop.session.visit, told.append)
    talk.hear_out()
    talk.say(Text(words="mill lane"))
    talk.hear_out()
    talk.say(Finding(choice="copper-wren-solo"))
    assert told == [sounds.CANNOT_KEEP]
    assert talk.state.profile == "copper-wren-solo"


def test_each_answer_has_the_sound_of_its_own_words(home):
    def heard(words):
        return f.WordsHeard(heard=Heard(words=words, meaning=None, trust="sure"))

    def answer(number, words):
        finding = Finding(choice="x")
        return f.AnswerGiven(
            number=number,
            check="c",
            question="q",
            place=None,
            answer=finding,
            words=words,
            how="typed",
            probability=1.0,
        )

    spoken = [heard("four volts"), heard("yes"), answer(1, "four volts"), heard("nine volts"), answer(2, "nine volts"),
              heard("u to v two"), answer(3, "u to v two"), answer(4, "u to v two")]  # fmt: skip
    facts = [Stamped(number, datetime(2026, 3, 4), 0.0, fact) for number, fact in enumerate(spoken, 1)]
    assert sounds.of_answers(VISIT, facts) == {}
    keep(VISIT, 1, 2, 6)
    assert sounds.of_answers(VISIT, facts) == {
        number: sounds.name(VISIT, of) for number, of in {1: 1, 3: 6, 4: 6}.items()
    }


def test_a_name_from_a_journal_leads_nowhere_else():
    assert sounds.name("../../etc/x", 1) == "audio/______etc_x/00001.flac"


def test_it_is_listed_and_deleted_by_visit_by_age_and_wholly(home, capsys):
    keep(VISIT, 1, 2)
    keep("2026-03-05-1", 1, days_ago=9)
    assert main(["audio"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert [line.split()[:3] for line in lines] == [[VISIT, "2", "utterances"], ["2026-03-05-1", "1", "utterance"]]
    assert main(["audio", "--older-than", "8"]) == 0
    assert "Sound deleted: 1 utterance. `ladderside record VISIT` writes" in capsys.readouterr().out
    assert kept(home) == [sounds.name(VISIT, 1), sounds.name(VISIT, 2)]
    (home / "audio" / VISIT / "note.txt").write_text("not ours")
    assert main(["audio", "--delete", VISIT, "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == []
    assert kept(home) == []
    assert (home / "audio" / VISIT / "note.txt").exists()
    keep(VISIT, 3)
    assert main(["audio", "--delete-all"]) == 0
    assert "No sound is kept." in capsys.readouterr().out


@pytest.mark.parametrize("words", ["0", "-1", "nan", "1.5", "99999", "٣", "9" * 5000])
def test_an_age_that_is_none_is_refused(words, capsys):
    with pytest.raises(SystemExit) as ended:
        main(["audio", "--older-than", words])
    assert ended.value.code == 2
    assert capsys.readouterr().err.count("\n") == 1


def test_what_is_past_its_time_is_deleted_when_a_visit_begins(home):
    from assistant.commands.opened import open_journal

    keep(VISIT, 1, days_ago=31)
    keep(VISIT, 2, days_ago=29)
    open_journal().close()
    assert kept(home) == [sounds.name(VISIT, 2)]
    sounds.keep_for(7)
    open_journal().close()
    assert kept(home) == []


def test_asked_for_on_the_command_line_it_is_kept(home, tmp_path):
    clip = next((Path(__file__).parents[2] / "recordings_synthetic" / "crossed-terminals" / "clips").glob("*-1.flac"))
    assert main(["replay", str(clip), "--to", str(tmp_path / "record")]) == 0
    assert kept(home) == []
    assert main(["replay", str(clip), "--keep-audio", "5", "--to", str(tmp_path / "record")]) == 0
    assert len(kept(home)) == 1
    assert sounds.days() == 5


def test_a_doubtful_reading_can_be_heard_from_the_page_and_the_record_stays_the_same_without(home, tmp_path, context):
    """From the visit's own folder and from another; the sound is no part of what is sealed."""
    import re
    from urllib.parse import unquote

    from assistant.visit.journal import Journal

    home.mkdir()
    journal = Journal(home / "journal.sqlite")
    visit = journal.open_visit(datetime(2026, 3, 4), "microphone")
    said = Heard(words="four volts", meaning=None, trust="sure")
    answer = f.AnswerGiven(
        number=1,
        check="lock-out-power",
        question="state",
        place=None,
        answer=Finding(choice="locked"),
        words="four volts",
        how="two ears",
        probability=0.7,
    )
    journal.append(visit, datetime(2026, 3, 4), 0.0, [f.VisitOpened(library="x"), f.WordsHeard(heard=said), answer])
    journal.close()
    keep(visit, 2)
    for folder in (home / "records" / visit, tmp_path / "for the office"):
        where = [] if folder.is_relative_to(home) else ["--to", str(folder)]
        assert main(["record", visit, *where]) == 0
        page = (folder / "record.html").read_text()
        [link] = re.findall(r'<a href="([^"]*)">hear it</a>', page)
        assert (folder / unquote(link)).resolve() == (home / sounds.name(visit, 2)).resolve()
        assert main(["record", "--verify", str(folder / "record.html"), str(folder / "record.json")]) == 0
    before = (folder / "record.json").read_text()
    assert main(["audio", "--delete", visit]) == 0
    assert main(["record", visit, *where]) == 0
    assert "hear it" not in (folder / "record.html").read_text()
    assert (folder / "record.json").read_text() == before
