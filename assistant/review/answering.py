"""A question is answered by its own words, and by "all good", "yeah" and "nope" where it has such an answer."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.language.interpret import interpret
from assistant.language.meaning import Expectation
from assistant.language.meaning import Finding as Answer
from assistant.language.own_words import answers_in_own_words, offered
from assistant.library.finding import Finding
from assistant.library.good import good_choice
from assistant.library.loader import Library
from assistant.library.models import Question

#: Other words for the only good answer, for yes and for no, of which every question with such an answer takes all.
GOOD, YES, NO = ("all good", "looks fine", "no problem"), ("affirmative", "yeah"), ("nope", "negative")


def unanswered(library: Library) -> Iterator[Finding]:
    """Questions whose own words, or other words for good, yes and no, are no answer; phrases that mean another one."""
    for check in library.checks.values():
        for place, question in enumerate(check.ask):
            if len(question.choices) > 1:
                for what, remedy in _wrong(question, good_choice(check, question)):
                    yield Finding("check", check.id, what, remedy, ("ask", place, "choices"))


def _wrong(question: Question, good: str) -> Iterator[tuple[str, str]]:
    asked = Expectation(question=question.key, choices=question.choices, good=good)

    def answer(words: str) -> str | None:
        found = interpret(words, asked)
        if isinstance(found.meaning, Answer) and not found.doubt:
            return found.meaning.choice
        return answers_in_own_words(words, asked, question.say)[0]

    ids = {choice.id for choice in question.choices}
    if "yes" not in ids:
        for part in offered(question.say):
            if answer(part) is None:
                yield f"the question offers “{part}”, which answers nothing", "give a choice a phrase of these words"
    for choice, others in ((good, GOOD), ("yes", YES), ("no", NO)):
        for words in others if choice in ids else ():
            if (got := answer(words)) != choice:
                yield (
                    f"“{words}” means {got or 'nothing'} and should mean {choice}",
                    "word the other phrase differently",
                )
    for each in question.choices:
        for phrase in each.phrases:
            if (got := answer(phrase)) != each.id:
                yield f"“{phrase}” of {each.id} is understood as {got or 'nothing'}", "word it differently"
