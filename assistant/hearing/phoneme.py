"""The phoneme ear: hama's phoneme posteriors, searched over the state's grammar.

It hears only what the grammar allows, at no cost for new words, and it can say how likely any words at all are for
what it heard, which makes it the judge of what a free-text ear proposes.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from assistant.hearing import acoustics, network, pronunciation, saying, search
from assistant.hearing.denoise import denoise
from assistant.hearing.network import Floats, Network
from assistant.hearing.protocol import Audio, Hypothesis, StateGrammar, WordGraph

#: Natural log added for each word, against dropped words.
BONUS = 2.0
#: Different word strings proposed for an utterance.
NBEST = 12
#: Peak to which an utterance is brought: the acoustic model hears level, and was found best near this one.
_PEAK = 0.5
#: Networks kept: a visit goes back and forth between few states.
_KEPT = 32


class PhonemeEar:
    """A Recognizer. ``log_probability`` of its hypotheses is the CTC forward log likelihood with BONUS a word."""

    name = "phoneme"

    def __init__(self, model: acoustics.PhonemeModel | None = None, lexicon: pronunciation.Lexicon | None = None):
        self.model = model or acoustics.load()
        self.lexicon = lexicon or pronunciation.load(self.model)
        self._networks: dict[StateGrammar, Network] = {}
        self._network: Network | None = None

    def prepare(self, grammar: StateGrammar) -> None:
        """Lays the grammar's graph out, or takes it from the states seen before."""
        if grammar not in self._networks:
            if len(self._networks) >= _KEPT:
                self._networks.pop(next(iter(self._networks)))
            self._networks[grammar] = network.build(grammar.graph, self.lexicon.pronounce, self.model)
        self._network = self._networks[grammar]

    def hear(self, audio: Audio) -> tuple[Hypothesis, ...]:
        """The likeliest word strings of the grammar, best first."""
        return self.propose(self.listen(audio))

    def listen(self, audio: Audio) -> Floats:
        """What the acoustic model makes of ``audio``: extended posteriors for ``propose`` and ``score``."""
        return network.extend(self.model.posteriors(levelled(denoise(audio))), self.model)

    def propose(self, heard: Floats) -> tuple[Hypothesis, ...]:
        """Searches the prepared grammar, then ranks the strings found by their full likelihood.

        Empty when silence is likelier than any of them.
        """
        if self._network is None:
            raise RuntimeError("prepare() must be called before an utterance is heard")
        found = [" ".join(each.words) for each in search.best(self._network, heard, BONUS, NBEST)]
        silence = float(heard[:, -2].sum())
        scored = sorted(zip(self.score(heard, found), found, strict=True), reverse=True)
        return tuple(Hypothesis(words, score, self.name) for score, words in scored if score > silence)

    def score(self, heard: Floats, strings: Sequence[str]) -> list[float]:
        """Log likelihood, with BONUS a word, of each of ``strings`` (not empty), whatever the grammar."""
        return self._likelihoods(heard, network.chains([string.split() for string in strings]))

    def score_ways(self, heard: Floats, strings: Sequence[str]) -> list[float]:
        """As ``score``, over every way to say the numbers in each string."""
        return self._likelihoods(heard, saying.ways(strings))

    def _likelihoods(self, heard: Floats, graph: WordGraph) -> list[float]:
        laid_out = network.build(graph, self.lexicon.pronounce, self.model)
        return [float(score) for score in search.likelihoods(laid_out, heard, BONUS)]


def levelled(audio: Audio) -> Audio:
    """``audio`` at the peak that the acoustic model hears best; silence stays silent."""
    peak = float(np.abs(audio).max(initial=0.0))
    return audio * np.float32(_PEAK / peak) if peak > 0 else audio
