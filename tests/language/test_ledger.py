"""What is noted in passing, in the words in which it is said and written."""

from __future__ import annotations

import pytest

from assistant.job.ledger import Entry
from assistant.language.interpret import interpret
from assistant.language.ledger import as_note
from assistant.language.meaning import LedgerSaid, Text
from tests.language.states import STATES

SAID = {
    "recovered 2 lb 10 oz": Entry(what="recovered", kg=1.19067997125, spoken="2 lb 10 oz"),
    "recovered two pounds ten ounces into cylinder three": Entry(
        what="recovered", kg=1.19067997125, spoken="2 lb 10 oz", cylinder="3"
    ),
    "charged 1.2 kg from cylinder 7": Entry(what="charged", kg=1.2, spoken="1.2 kg", cylinder="7"),
    "I charged one point two kilos from cylinder seven": Entry(what="charged", kg=1.2, spoken="1.2 kg", cylinder="7"),
    "took out 1,200 g": Entry(what="recovered", kg=1.2, spoken="1200 g"),
    "travel 40 min": Entry(what="travel", minutes=40),
    "Travel, forty minutes.": Entry(what="travel", minutes=40),
    "part: fan motor, one, from the van": Entry(what="part", text="fan motor", source="van"),
    "part fan motor two from the shop": Entry(what="part", text="fan motor", count=2, source="shop"),
    "part one compressor from the van": Entry(what="part", text="compressor", source="van"),
    "part, two contactors, from stock": Entry(what="part", text="contactors", count=2, source="stock"),
    "part four way valve on order": Entry(what="part", text="four way valve", source="on order"),
    "part run capacitor out of the van": Entry(what="part", text="run capacitor", source="van"),
    "Part: drain hose, on order": Entry(what="part", text="drain hose", source="on order"),
    "Note: the filter was torn.": Entry(what="note", text="the filter was torn"),
    "make a note, gate code with the neighbour": Entry(what="note", text="gate code with the neighbour"),
    "photo taken": Entry(what="photo"),
    "start the clock": Entry(what="clock-on"),
    "stop the clock": Entry(what="clock-off"),
    "lunch": Entry(what="break"),
    "back from lunch": Entry(what="clock-on"),
}


def _rounded(entry: Entry) -> Entry:
    return entry if entry.kg is None else entry.model_copy(update={"kg": round(entry.kg, 9)})


@pytest.mark.parametrize("words", SAID)
def test_an_entry_is_understood_in_every_state(words: str) -> None:
    for name, state in STATES.items():
        found = interpret(words, state)
        assert isinstance(found.meaning, LedgerSaid), (name, words, found.meaning)
        assert _rounded(found.meaning.entry) == _rounded(SAID[words])
        assert not found.doubt
        assert not found.meaning.corrects


def test_a_correction_of_an_entry() -> None:
    found = interpret("correction, charged 1.3 kilos", STATES["bus"]).meaning
    assert found == LedgerSaid(entry=Entry(what="charged", kg=1.3, spoken="1.3 kg"), corrects=True)
    found = interpret("correction: note: it was the bedroom", STATES["bus"]).meaning
    assert found == LedgerSaid(entry=Entry(what="note", text="it was the bedroom"), corrects=True)


def test_a_note_that_is_asked_for_is_the_answer() -> None:
    asked = STATES["note"].model_copy(update={"question": "visit.customer-note"})
    assert interpret("note the new filter", asked).meaning == Text(words="note the new filter")


def test_a_note_that_is_asked_for_is_kept_without_the_word_note() -> None:
    assert as_note("note the new filter") == "the new filter"
    assert as_note("new filter, note the date") == "new filter, note the date"


@pytest.mark.parametrize("words", ["travel", "charged", "note", "part", "photo", "recovered nothing"])
def test_half_an_entry_is_none(words: str) -> None:
    assert not isinstance(interpret(words, STATES["bus"]).meaning, LedgerSaid)
