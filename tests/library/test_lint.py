"""Every rule finds what it is for, at the right line, in a library that was sound before."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from assistant.library.loader import Library, load
from assistant.review import apart
from assistant.review.answering import unanswered
from assistant.review.lint import grammar_problems, problems
from tests.library.conftest import spoil


def test_the_shipped_library_keeps_to_every_rule(library: Library) -> None:
    assert [str(problem) for problem in problems(library)] == []


def test_the_shipped_grammars_keep_to_every_rule() -> None:
    assert grammar_problems() == []


def test_the_small_library_keeps_to_every_rule(small: Path, tmp_path: Path) -> None:
    assert [str(problem) for problem in problems(load(small, tmp_path))] == []


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        # references
        ("precautions: [ladder]", "precautions: [lader]", "no precaution called “lader”; did you mean “ladder”"),
        ("confirm: [bulb-look]", "confirm: [bulb-lock]", "no check called “bulb-lock”; did you mean “bulb-look”"),
        ("proof: [fuse-ohms]", "proof: [meter-it]", "no check called “meter-it”"),
        ("      fuse-dead: {closed", "      fuse-dad: {closed", "no suspect called “fuse-dad”"),
        ("fuse-dead: 0.9}", "fuse-dud: 0.9}", "no suspect called “fuse-dud”"),
        ("instrument: ohmmeter", "instrument: ohmeter", "no instrument called “ohmeter”"),
        ("source: practice}", "source: hearsay}", "no source called “hearsay”"),
        ("    minutes: 2", "    minutes: 2\n    after: [nowhere]", "no check called “nowhere”"),
        ("    minutes: 2", "    minutes: 2\n    only_if: {bulb-look: [maybe]}", "no outcome of “bulb-look” called"),
        ("    minutes: 2", "    minutes: 2\n    with_symptoms: [dork]", "no symptom called “dork”; did you"),
        ("    name: it is dark", "    name: it is dark\n    answers: {bulb-lock: yes}", "no check called “bulb-lock”"),
        ("    name: it is dark", "    name: it is dark\n    answers: {bulb-look: burnt}", "no outcome of “bulb-look”"),
        ("    name: it is dark", '    name: it is dark\n    answers: {bulb-look: "no"}', "which confirms a suspect"),
        ("    name: it is dark", "    name: it is dark\n    same_as: {bulb-look.it: dark}", "no question called"),
        ("    name: it is dark", "    name: it is dark\n    same_as: {bulb-look.wire: dark}", "no answer to"),
        ("    minutes: 2", "    minutes: 2\n    follow_up: {melted: bulb-look}", "no outcome of this check called"),
        ("        reading: {", "        repeats: bulb-look.it\n        reading: {", "reads nothing of the kind"),
        ("by: continuity", "by: gut-feeling", "no judge called gut-feeling"),
        ("inputs: {resistance: resistance}", "inputs: {resistance: ohms}", "names the question ohms"),
        ("high: {value: 2, unit: ohm, source: practice}", "high: {profile: fuse.limit}", "no profile has “fuse.limit”"),
        ("inputs: {choice: wire}", "inputs: {choice: wire}, options: {threshold: 3}", "a number without a source"),
        ("confirm: [fuse-ohms]", "confirm: [bulb-look]", "“bulb-look” is to confirm it but gives no chances"),
        ("confirm: [fuse-ohms]", "confirm: [fuse-ohms]\n    split: {fuse-ohms: [burnt]}", "its split wants “burnt”"),
        # chances
        ("otherwise: {closed: 0.97, open: 0.03}", "otherwise: {closed: 0.97, open: 0.3}", "otherwise sum to 1.27"),
        ("{closed: 0.02, open: 0.98}", "{closed: 1}", "for “fuse-dead” leave out “open”"),
        ("{closed: 0.02, open: 0.98}", "{closed: 0.02, open: 0.98, burnt: 0.1}", "name “burnt”"),
        ("{closed: 0.02, open: 0.98}", "{closed: 0, open: 1}", "not between 0 and 1"),
        ('otherwise: {"yes": 0.95, "no": 0.05}', "otherwise: {}", "says nothing of the others"),
        # wording
        ("phrases: [measure the fuse]", "phrases: [Look at  bulb]", "also names the check “bulb-look”"),
        ("    name: the fuse is dead", "    name: the fuse is dead\n    phrases: [look at the bulb]", "does not tell"),
        ('phrases: ["no"]', 'phrases: ["yes"]', "means both"),
        ('phrases: ["no"]', 'phrases: ["no", go back]', "also the command"),
        ("    why: Looking is free.", f"    why: Free.\n    probes: {'Go on. ' * 14}Look.", "words to the end of its"),
        ("why: Ohms do not lie.", f"why: {'Ohms never lie to anyone, ' * 7} never.", "s to say; say it in under 8"),
        ("say: Fit a new fuse.", f"say: {'go and ' * 13} fit.", "a sentence has 27 words"),
        # safety
        ("energy: proved-dead\n    where: indoor\n    minutes: 2", "energy: live\n    where: indoor\n    minutes: 2",
         "measures resistance in the state “live”"),
        ("quantity: resistance, unit: ohm, plausible: [0, 1000]", "quantity: voltage_ac, unit: V, plausible: [0, 9]",
         "measures a voltage without the caution for it"),
        # what a step does to hands and machine
        ("    minutes: 2", "    minutes: 2\n    takes_off: [cower]", "no thing taken off called “cower”; did you mean"),
        ("precautions: [ladder], minutes: 5,", "precautions: [ladder], minutes: 5, puts_back: [lid],", "called “lid”"),
        ("open: {verdict: fail, means: open}", "open: {verdict: fail, means: open, hazard: brunt}", "no hazard called"),
        ("open: {verdict: fail, means: open}", "open: {verdict: fail, means: open, cleared_by: {bulb-look: [dim]}}",
         "no outcome of “bulb-look” called “dim”"),
        ("    name: it is dark", "    name: it is dark\n    hazard: lions", "no hazard called “lions”"),
        ("    touches: [{what: nothing}]\n", "", "it does not say what hands touch"),
        ("touches: [{what: plug, at: indoor}]", "tools: []", "its repair does not say what hands"),
        ("say: Fit a new bulb.", "say: Braze in a new bulb.", "it says “braze” and touches terminals"),
        ("say: Fit a new fuse.", "say: Reset it and see.", "it says “reset” and does not say that it may energize"),
        ("    why: Looking is free.", "    why: Looking is free.\n    probes: Tug all wires.", "it says “tug” and"),
        ("    why: Looking is free.", "    why: Free.\n    probes: Cover off and look.", "it says “cover off” and"),
        ("    why: Looking is free.", "    why: Free.\n    probes: Gauge on the port.", "it says “gauge on” and"),
        ("    why: Looking is free.", "    why: Free.\n    probes: Turn the wheel.", "it says “turn the wheel” and"),
        ("    why: Looking is free.", "    why: Free.\n    probes: AC volts at the lamp.", "it says “ac volts” and"),
        ("    why: Looking is free.", "    why: Free.\n    probes: Clip one conductor.", "it says “clip one conduc"),
        ("energy: proved-dead, where: indoor, minutes: 5", "energy: isolated, where: indoor, minutes: 5",
         "touches plug in the state “isolated”"),
        # reach
        ("    minutes: 2", "    minutes: 2\n    needs: [rocket]", "no unit has “rocket”"),
        ("    minutes: 2", "    minutes: 2\n    after: [fuse-ohms]", "it comes after itself"),
        ("shown_by: {bulb-dead: 0.9, fuse-dead: 0.9}", "shown_by: {bulb-dead: 0.9}", "no symptom shows it"),
        ("    weight: 1", "    weight: 1\n    needs: [rocket]", "no unit can have it"),
        # telling apart
        ("{closed: 0.02, open: 0.98}", "{closed: 0.9, open: 0.1}", ""),
    ],
)  # fmt: skip
def test_a_spoilt_library_is_found_out(small: Path, tmp_path: Path, old: str, new: str, what: str) -> None:
    line = spoil(small, old, new)
    found = problems(load(small, tmp_path))
    if not what:  # a dull check alone is no problem while another tells the two apart
        assert found == []
        return
    hits = [problem for problem in found if what in str(problem)]
    assert hits, [str(problem) for problem in found]
    assert any(problem.file.name == "sample.yaml" and abs(problem.line - line) <= 12 for problem in hits)
    assert all(problem.remedy for problem in hits)


def test_a_useless_check_is_unreachable(small: Path, tmp_path: Path) -> None:
    sample = small / "faults" / "sample.yaml"
    text = sample.read_text(encoding="utf-8")
    start = text.index("  - id: fuse-ohms")
    useless = text[start:].replace("fuse-ohms", "idle-check").replace("measure the fuse", "idle").split("    tells:")[0]
    sample.write_text(text + useless, encoding="utf-8")
    [problem] = problems(load(small, tmp_path))
    assert "“idle-check”: no visit comes to it: it tells of no suspect" in problem.what
    assert problem.line == text.count("\n") + 1


def test_a_precaution_nobody_speaks(small: Path, tmp_path: Path) -> None:
    text = "precautions:\n  - {id: ladder, say: Foot the ladder., source: practice}\n"
    text += "  - {id: lions, say: Mind the lions., source: practice}\n"
    (small / "precautions.yaml").write_text(text, encoding="utf-8")
    [problem] = problems(load(small, tmp_path))
    assert (problem.file.name, problem.line) == ("precautions.yaml", 3)
    assert "“lions”: no check and no repair speaks it" in problem.what


def test_suspects_that_answer_alike_are_listed_with_what_would_tell(small: Path, tmp_path: Path) -> None:
    spoil(small, 'bulb-dead: {"yes": 0.05, "no": 0.95}', 'bulb-dead: {"yes": 0.9, "no": 0.1}')
    spoil(small, "fuse-dead: {closed: 0.02, open: 0.98}", "fuse-dead: {closed: 0.8, open: 0.2}")
    [problem] = problems(load(small, tmp_path))
    assert "“bulb-dead”: no check can tell it from “fuse-dead”" in problem.what
    assert "nearest is “fuse-ohms” (17% apart)" in problem.remedy
    assert "add a check of the bulb or fuse" in problem.remedy


def test_a_check_that_the_unit_lacks_is_named_as_what_would_tell(small: Path, tmp_path: Path) -> None:
    spoil(small, 'bulb-dead: {"yes": 0.05, "no": 0.95}', 'bulb-dead: {"yes": 0.9, "no": 0.1}')
    spoil(small, "    minutes: 2\n", "    minutes: 2\n    needs: [three-phase]\n")
    found = [problem for problem in problems(load(small, tmp_path)) if "can tell it from" in problem.what]
    assert "“fuse-ohms” would, but that unit lacks three-phase" in found[0].remedy


def test_chances_added_by_another_file_are_blamed_there(small: Path, tmp_path: Path) -> None:
    more = small / "faults" / "more.yaml"
    more.write_text(
        "system: more\nabout: added\nalso_tells:\n  bulb-look:\n    fuse-dead: {yes: 0.5, no: 0.9}\n", encoding="utf-8"
    )
    [problem] = problems(load(small, tmp_path))
    assert (problem.file.name, problem.line) == ("more.yaml", 5)
    assert "sum to 1.4" in problem.what


def test_difference_is_the_total_variation(library: Library) -> None:
    check = library.checks["winding-resistance"]
    suspects = [library.suspects[key] for key in ("windings-unequal", "winding-open", "filter-dirty")]
    made = apart.differences([check], suspects)[0]
    for i, first in enumerate(suspects):
        for j, second in enumerate(suspects):
            one, two = (check.tells.get(each.id, check.otherwise) for each in (first, second))
            by_hand = sum(abs(one[outcome] - two[outcome]) for outcome in check.outcomes) / 2
            assert made[i, j] == pytest.approx(by_hand)


@pytest.mark.parametrize(
    ("change", "what"),
    [
        ({"say": "Are screws tight, or is one purple?"}, "offers “one purple”, which answers nothing"),
        ({"phrases": ("a screw is loose", "no problem")}, "“no problem” means loose and should mean tight"),
    ],
)
def test_a_question_that_its_own_words_do_not_answer(library: Library, change: dict[str, object], what: str) -> None:
    check = library.checks["heat-sink-look"]
    [question] = check.ask
    last = question.choices[-1]
    if "phrases" in change:
        question = question.model_copy(update={"choices": (*question.choices[:-1], last.model_copy(update=change))})
    else:
        question = question.model_copy(update=change)
    spoilt = replace(library, checks={check.id: check.model_copy(update={"ask": (question,)})})
    assert any(what in finding.what for finding in unanswered(spoilt))
    assert not list(unanswered(replace(library, checks={check.id: check})))
