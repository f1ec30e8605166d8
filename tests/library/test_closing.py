"""The knowledge names what closes every repair; the code knows no check by name for it."""

from assistant.library.closing import general_proof
from assistant.library.loader import load
from assistant.library.models import AFTER_ANY_REPAIR


def test_a_repair_is_closed_in_the_mode_that_the_complaint_is_about():
    library = load()
    assert general_proof(library, ("weak-output",)) == ("commission-split-cooling", "commission-complaint-gone")
    assert general_proof(library, ("blows-cold-heating", "high-bill")) == (
        "commission-split-heating",
        "commission-complaint-gone",
    )
    in_frost = (("complaint-mode", "cooling"), ("visit-outdoor-air", "low"))
    assert general_proof(library, ("weak-output",), in_frost)[0] == "commission-split-heating"
    assert general_proof(library, ("weak-output",), in_frost[::-1])[0] == "commission-split-heating"
    assert general_proof(library, ("display-dark",), (("visit-outdoor-air", "low"),))[0] == "commission-split-heating"
    assert general_proof(library, ("no-such-symptom",)) == general_proof(library, ())


def test_every_symptom_has_a_general_proof_that_follows_any_repair():
    library = load()
    for symptom in library.symptoms:
        proof = general_proof(library, (symptom,))
        assert any(library.checks[check].closes != "any" for check in proof), symptom
        assert any(library.checks[check].closes == "any" for check in proof), symptom
        assert {library.system_of[check] for check in proof} == {AFTER_ANY_REPAIR}
