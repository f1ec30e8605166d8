"""The net beneath the grammar: a model that ranks what a clause may mean. ``protocol`` is all that others see."""

from assistant.language.net.protocol import NONE, KnowsNothing, Net, Ranked, default_net

__all__ = ["NONE", "KnowsNothing", "Net", "Ranked", "default_net"]
