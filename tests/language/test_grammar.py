"""The grammar both ways: what it makes it recognises with the same meaning; what it must not take it does not."""

from __future__ import annotations

import pytest

from assistant.language import state
from assistant.language.compare import same_meaning
from assistant.language.generate import sentences
from assistant.language.grammar import compile_state, problems, vocabulary
from assistant.language.interpret import interpret
from assistant.language.meaning import Choice, Expectation
from assistant.language.normalise import normalise
from assistant.language.state_grammar import WordGraph
from tests.language.states import SHOWN, STATES, choice


class Acceptor:
    """Walks a word graph."""

    def __init__(self, graph: WordGraph) -> None:
        self.graph = graph
        self.arcs: dict[tuple[int, str], set[int]] = {}
        for start, word, end in graph.arcs:
            self.arcs.setdefault((start, word), set()).add(end)

    def accepts(self, words: str) -> bool:
        states = {self.graph.start}
        for word in words.split():
            states = {end for state in states for end in self.arcs.get((state, word), ())}
        return bool(states & self.graph.finals)


@pytest.mark.parametrize("name", STATES)
def test_generated_sentences_come_back_with_their_meaning(name: str) -> None:
    state = STATES[name]
    made = sentences(state, 120, seed=11)
    assert len(made) == 120
    doubted = 0
    for sentence in made:
        found = interpret(sentence.words, state)
        # Pins named by digits run into the reading before them: such a sentence may be doubted, never mistaken.
        if found.doubt and name == "pins":
            doubted += 1
            continue
        assert same_meaning(found.meaning, sentence.meaning), (sentence, found.meaning)
        assert not found.doubt, (sentence, found.doubt)
    assert doubted <= 3


@pytest.mark.parametrize("name", STATES)
def test_the_search_graph_takes_every_generated_sentence(name: str) -> None:
    grammar = compile_state(STATES[name])
    graph = Acceptor(grammar.graph)
    for sentence in sentences(STATES[name], 60, seed=12):
        assert graph.accepts(sentence.words), sentence.words
        assert set(sentence.words.split()) <= grammar.words
        assert normalise(sentence.words, STATES[name]) == sentence.words


@pytest.mark.parametrize("name", STATES)
def test_a_graph_is_small_whole_and_alive(name: str) -> None:
    graph = compile_state(STATES[name]).graph
    assert graph.states < 1100
    assert len(graph.arcs) < 13_000
    assert all(word for _, word, _ in graph.arcs)
    onward: dict[int, set[int]] = {}
    back: dict[int, set[int]] = {}
    for start, _, end in graph.arcs:
        onward.setdefault(start, set()).add(end)
        back.setdefault(end, set()).add(start)
    used = {start for start, _, _ in graph.arcs} | {end for _, _, end in graph.arcs}
    assert used <= _reached({graph.start}, onward)
    assert used <= _reached(set(graph.finals), back)


def _reached(states: set[int], arcs: dict[int, set[int]]) -> set[int]:
    seen = set(states)
    queue = list(states)
    while queue:
        for to in arcs.get(queue.pop(), set()) - seen:
            seen.add(to)
            queue.append(to)
    return seen


def test_the_same_seed_gives_the_same_sentences() -> None:
    one, again, other = (sentences(STATES["bus"], 20, seed) for seed in (3, 3, 4))
    assert one == again
    assert one != other


MUST_NOT_MATCH = [
    ("bus", "the customer said it was forty outside"),
    ("bus", "four point two or four point three"),
    ("bus", "not four point two"),
    ("bus", "i don't think it's four point two"),
    ("bus", "four point two ohms"),
    ("bus", "four point two without load"),
    ("bus", "yes"),
    ("bus", "one two three testing"),
    ("bus", "four point two point six"),
    ("bus", "is that forty volts or fifty"),
    ("windings", "u to u four point two"),
    ("windings", "four ohms u to v v to w"),
    ("windings", "u to v four ohms v to w"),
    ("windings", "the same"),
    ("yes-no", "four point two"),
    ("yes-no", "stop the fan motor from turning"),
    ("yes-no", "do not skip that"),
    ("yes-no", "the compressor is done for"),
    ("shown", "four flashes"),
    ("shown", "six flashes"),
    ("shown", "mark kite five"),
    ("shown", "kite five"),
    ("bus", "superheat liquid three"),
    ("bus", "superheat suction one twenty ohms"),
    ("charge", "two pounds twenty ounces"),
    ("bus", "[BLANK_AUDIO]"),
    ("bus", ""),
]


@pytest.mark.parametrize(("name", "words"), MUST_NOT_MATCH)
def test_sentences_that_must_not_match(name: str, words: str) -> None:
    assert interpret(words, STATES[name]).meaning is None


def test_every_grammar_word_is_in_the_vocabulary() -> None:
    known = vocabulary()
    assert {"zero", "oh", "psi", "correction", "jumps"} <= known
    assert compile_state(Expectation(question="q")).words - known == _from_the_catalogue()


def _from_the_catalogue() -> set[str]:
    """Words that only the calculations' names bring."""
    from assistant.language.sums import known

    said = [*(known().values())]
    words = {word for one in said for text in one.phrases for word in text.split()}
    words |= {word for one in said for taken in one.parameters for text in taken.phrases for word in text.split()}
    return words - set(vocabulary())


def test_a_state_is_compiled_once() -> None:
    assert compile_state(STATES["bus"]) is compile_state(STATES["bus"])


def test_the_prompt_is_in_the_states_words_with_readings_as_they_may_be_said() -> None:
    expected = "Resistance in ohms. U to V, oh point four two ohms. V to W reads three hundred sixty one ohms."
    assert compile_state(STATES["windings"]).prompt == expected
    told = STATES["bus"].model_copy(update={"topic": "Volts across the large capacitors."})
    expected = "Volts across the large capacitors. It reads oh point four two volts. Three hundred sixty one volts."
    assert compile_state(told).prompt == expected


def test_a_prompt_of_many_choices_ends_with_a_whole_one() -> None:
    many = Expectation(question="many", choices=tuple(choice(f"c{n}", f"answer number {n}") for n in range(90)))
    assert compile_state(many).prompt == " ".join(f"Answer number {n}." for n in range(10))


def test_closed_phrases_hold_answers_and_commands() -> None:
    phrases = compile_state(STATES["yes-no"]).phrases
    assert {"yes", "nope", "repeat", "check the float switch"} <= set(phrases)
    assert len(phrases) == len(set(phrases))


def test_the_shipped_grammars_have_no_problem() -> None:
    assert problems(STATES.values()) == []


def test_clashing_answers_are_told() -> None:
    bad = Expectation(
        question="bad",
        choices=(choice("on", "it runs", "stop"), choice("off", "it runs"), choice("none", "...")),
    )
    told = [problem.what for problem in problems([bad])]
    assert '"it runs" means both "on" and "off" in bad.' in told
    assert '"stop" is an answer of bad and also the command stop.' in told
    assert 'The answer "none" of bad has an empty phrase.' in told


def test_shown_codes_are_matched_in_figures_and_words() -> None:
    for written in ("mark KITE4", "Mark kite four.", "MARK KITE-4"):
        found = interpret(written, SHOWN)
        assert found.meaning is not None
        assert not found.doubt


def test_a_long_day_of_many_states_keeps_few_of_them() -> None:
    """Each is most of a megabyte: a day that went through all questions once held 140 MB more at its end."""
    from assistant.hearing.ears import phoneme

    ear = phoneme.PhonemeEar()
    for number in range(40):
        ear.prepare(compile_state(Expectation(question=f"state.{number}", topic="A state.")))
    assert compile_state.cache_info().currsize <= 8
    assert len(ear.networks) <= 4


def test_a_day_of_questions_keeps_no_more_automata_than_a_visit_needs():
    for number in range(state.KEPT + 10):
        choice = Choice(id="seen", phrases=(f"lamp {number} glows",))
        asked = Expectation(question=f"look.{number}", choices=(choice,))
        assert state.automata(asked) == tuple(state.AUTOMATA[part.key] for part in state.parts(asked))
    assert len(state.AUTOMATA) == state.KEPT
