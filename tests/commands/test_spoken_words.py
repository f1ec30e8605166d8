"""Spoken sentences are counted by what a visit would do with them."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.commands.spoken_words import ByEar
from assistant.dialogue.measuring import measured_by
from assistant.hearing.sound.audio import SAMPLE_RATE, Utterance
from assistant.language.corpus import CorpusError
from assistant.language.meaning import Cannot, Command, Expectation, Finding, Heard
from assistant.language.net import default_net
from assistant.library.loader import load
from assistant.measuring.places import Place
from recordings_synthetic.sentences import spoken

TABLE = """sentence\tstate\tmeaning\tkind
it's plugged solid\tfilter-look.filter\tchoice:blocked\tanswer
clear\tfilter-look.filter\tchoice:clear\tanswer
say that again\tany\tcommand:repeat\tcommand
"""
WRONG = Heard(words="i can't see", meaning=Cannot(reason="cant-see"), trust="confirm")
ANSWERS = {
    "filter-look.filter": [
        WRONG.model_copy(update={"ears": (("whisper", "It's plugged solid."), ("moonshine", "it's plucked salad"))}),
        Heard(words="clear", meaning=Finding(choice="clear"), trust="sure", ears=(("whisper", "Clear."),)),
    ],
    "any": [Heard(words="repeat", meaning=Command(name="repeat"), trust="confirm", ears=(("whisper", "Repeat."),))],
}


class Scripted:
    """Ears that give the answers of each question in turn."""

    def __init__(self) -> None:
        self.question = ""
        self.answers = {key: iter(answers) for key, answers in ANSWERS.items()}

    def expect(self, expectation: Expectation) -> None:
        self.question = expectation.question

    def judge(self, utterance: Utterance) -> Heard:
        return next(self.answers[self.question])


def test_what_is_asked_back_and_what_is_obeyed_at_once(tmp_path: Path) -> None:
    (tmp_path / "sentences.tsv").write_text(TABLE, encoding="utf-8")
    for name in ("0002-one.flac", "0003-one.flac", "0004-one.flac"):
        soundfile.write(tmp_path / name, np.full(8000, 0.1, np.float32), SAMPLE_RATE)
    by_ear = ByEar(tmp_path, Scripted(), Place(), default_net())
    tallies = measured_by(by_ear, [by_ear.table], load())
    assert {kind: (tally.counts["at once"], tally.counts["asked"]) for kind, tally in tallies.items()} == {
        "answer": (1, 1),
        "command": (1, 0),
    }
    ((_, row, found),) = tallies["answer"].missed
    assert (row.line, found.words) == (2, "0002-one: It's plugged solid. / it's plucked salad")


def test_a_folder_without_sound_is_told(tmp_path: Path) -> None:
    (tmp_path / "sentences.tsv").write_text(TABLE, encoding="utf-8")
    with pytest.raises(CorpusError, match="no sound files that begin with the number of a line"):
        ByEar(tmp_path, Scripted(), Place(), default_net())


def test_signs_that_engines_read_out_are_left_out() -> None:
    assert spoken('She\'s "done", 50% of it — off.') == "She's  done , 50  of it   off"
