"""What is measured once is not asked again: the pipes' length goes from the tape to the plate, and to the charge."""

from datetime import datetime

import pytest

from assistant.visit.journal import Journal
from tests.job.technician import Technician
from tests.job.test_whole_days import COMMISSIONING

SO: dict[str, str | list[str]] = {
    **COMMISSIONING,
    "install-line-length.length": "12 m",
    "install-line-length.height": "2 m",
    "commission-nitrogen-hold.end": "4000 kPa",
    "visit-charge-by-length.mass": ["0.02 kg", "0.09 kg"],
}


@pytest.fixture(scope="module")
def rosa(tmp_path_factory):
    """A technician who commissions a unit whose pipes are longer than its free length, and charges too little first."""
    technician = Technician(Journal(tmp_path_factory.mktemp("plate") / "journal.sqlite"), so=SO)
    technician.arrive(datetime(2026, 5, 6, 9, 0))
    technician.say("willow lane", "copper wren solo", "commissioning")
    technician.go_on(until="commission-leak-check*")
    return technician


def test_what_the_course_measures_is_not_asked_for_the_plate(rosa):
    assert "aside.plate-pipe-m" not in rosa.asked
    assert rosa.asked.count("install-line-length.length") == 1
    assert (rosa.session.state.job.plate.pipe_m, rosa.session.state.job.plate.lift_m) == (12.0, 2.0)


def test_a_known_length_answers_and_its_source_is_kept(rosa):
    assert "visit-charge-by-length.length" not in rosa.asked
    charged = [result for result in rosa.session.state.results if result.check == "visit-charge-by-length"]
    assert [given.how for given in charged[-1].answers if given.question == "length"] == ["from the plate"]


def test_too_little_charge_is_topped_up_though_the_circuit_is_charged(rosa):
    charged = [result for result in rosa.session.state.results if result.check == "visit-charge-by-length"]
    assert [result.judgement.outcome for result in charged] == ["low", "ok"]
    assert rosa.session.state.circuit == ("charged",)
