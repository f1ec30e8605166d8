"""The net beneath the grammar: a sentence model that ranks what a clause may mean; others see only ``protocol``."""

from assistant.language.net.protocol import ANY, NONE, TALK, Hint, Hints, KnowsNothing, Net, Ranked

__all__ = ["ANY", "NONE", "TALK", "Hint", "Hints", "KnowsNothing", "Net", "Ranked", "default_net"]


def default_net() -> Net:
    """The net of this installation, loaded at the first call. Raises NetError when its files are missing or altered."""
    from assistant.language.net.ranking import sentence_net  # loads ONNX Runtime, which nothing else here needs

    return sentence_net()
