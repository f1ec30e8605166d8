"""The phoneme ear: hama's phoneme posteriors, searched over the state's grammar.

It hears only what the grammar allows, at no cost for new words, and it can say how likely any words at all are for
what it heard, which makes it the judge of what a free-text ear proposes.

It hears with two acoustic models, the package's and the one that learnt from synthetic voices in noise, and with the
second twice, its frames half a frame apart. Which of them suits a voice is not known beforehand, so each proposes, and
a string's likelihood is the mean of the likelihoods: a model that cannot make anything of a voice then takes nothing
from the others. The second look brought 5 more of 1,280 natural synthetic utterances right in fan noise of 10 dB, at a
tenth more time.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from assistant.hearing.ears import (
    acoustics,
    network,
    pronunciation,
    search,
)
from assistant.hearing.ears.network import Floats, Network
from assistant.hearing.ears.protocol import Hypothesis
from assistant.hearing.sound.audio import Audio
from assistant.hearing.sound.denoise import denoise
from assistant.language import saying
from assistant.language.state_grammar import StateGrammar, WordGraph

#: Natural log added for each word where strings are compared, whichever model found them.
BONUS = 0.5
#: Different word strings proposed for an utterance.
NBEST = 12
#: Peak to which an utterance is brought: the acoustic model hears level, and was found best near this one.
_PEAK = 0.5
#: Networks kept, up to 4 MB each: a visit goes back and forth between few states, and another is made in some ms.
_KEPT = 4


#: What each acoustic model makes of an utterance: extended posteriors.
Sounds = tuple[Floats, ...]


class PhonemeEar:
    """A Recognizer. ``log_probability`` of its hypotheses is the CTC forward log likelihood with a bonus a word."""

    name = "phoneme"

    def __init__(
        self, models: Sequence[acoustics.PhonemeModel] = (), lexicon: pronunciation.Lexicon | None = None
    ) -> None:
        self.models = tuple(models) or acoustics.load_all()
        self._model = self.models[0]
        self.lexicon = lexicon or pronunciation.load(self._model)
        self.networks: dict[StateGrammar, Network] = {}
        self._network: Network | None = None

    def packaged(self) -> PhonemeEar:
        """This ear with the package's acoustic model alone: for decisions that must be quick."""
        return PhonemeEar(self.models[:1], self.lexicon)

    def prepare(self, grammar: StateGrammar) -> None:
        """Lays the grammar's graph out, or takes it from the states seen before."""
        if grammar not in self.networks:
            if len(self.networks) >= _KEPT:
                self.networks.pop(next(iter(self.networks)))
            self.networks[grammar] = network.build(grammar.graph, self.lexicon.pronounce, self._model)
        self._network = self.networks[grammar]

    def hear(self, audio: Audio) -> tuple[Hypothesis, ...]:
        """The likeliest word strings of the grammar, best first."""
        return self.propose(self.listen(audio))

    def listen(self, audio: Audio) -> Sounds:
        """What the acoustic models make of ``audio``, for ``propose`` and ``score``."""
        clear = cleared(audio)
        return tuple(network.extend(model.posteriors(clear), model) for model in self.models)

    def propose(self, heard: Sounds) -> tuple[Hypothesis, ...]:
        """Searches the prepared grammar, then ranks the strings found by their full likelihood.

        Empty when silence is likelier than any of them.
        """
        if self._network is None:
            raise RuntimeError("prepare() must be called before an utterance is heard")
        found = [
            " ".join(each.words)
            for model, sounds in zip(self.models, heard, strict=True)
            for each in search.best(self._network, sounds, model.bonus, NBEST)
        ]
        strings = list(dict.fromkeys(found))
        silence = _mean([[float(sounds[:, -2].sum())] for sounds in heard])[0]
        scored = sorted(zip(self.score(heard, strings), strings, strict=True), reverse=True)
        return tuple(Hypothesis(words, score, self.name) for score, words in scored if score > silence)

    def score(self, heard: Sounds, strings: Sequence[str]) -> list[float]:
        """Log likelihood, with a bonus a word, of each of ``strings`` (not empty), whatever the grammar."""
        return self._likelihoods(heard, network.chains([string.split() for string in strings]))

    def score_ways(self, heard: Sounds, strings: Sequence[str]) -> list[float]:
        """As ``score``, over every way to say the numbers in each string."""
        return self._likelihoods(heard, saying.ways(strings))

    def _likelihoods(self, heard: Sounds, graph: WordGraph) -> list[float]:
        laid_out = network.build(graph, self.lexicon.pronounce, self._model)
        return _mean([search.likelihoods(laid_out, sounds, BONUS) for sounds in heard])


def _mean(logs: Sequence[Sequence[float] | NDArray[np.float64]]) -> list[float]:
    """Log of the mean of likelihoods, column by column."""
    together = np.logaddexp.reduce(np.asarray(logs, dtype=np.float64), axis=0) - np.log(len(logs))
    return [float(each) for each in together]


def cleared(audio: Audio) -> Audio:
    """``audio`` as the acoustic models are given it: with less of its steady noise, and levelled."""
    return levelled(denoise(audio))


def levelled(audio: Audio) -> Audio:
    """``audio`` at the peak that the acoustic model hears best; silence stays silent."""
    peak = float(np.abs(audio).max(initial=0.0))
    return audio * np.float32(_PEAK / peak) if peak > 0 else audio
