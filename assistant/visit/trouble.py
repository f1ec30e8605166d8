"""What is said when something fails in the middle of a visit: what it is, that the visit is held, and what is live.

None of it is part of the visit: where the journal itself fails, nothing could be written down.
"""

from __future__ import annotations

from collections.abc import Callable

from assistant.data.defects import note_defect
from assistant.devices import SoundDeviceError
from assistant.dialogue.breaks import caution_of
from assistant.dialogue.state import VisitState
from assistant.dialogue.turn import About, Reply
from assistant.errors import LaddersideError
from assistant.messages.catalogue import catalogue
from assistant.messages.message import Message, message
from assistant.speaking.loudspeaker import LoudspeakerError
from assistant.visit.aloud import Aloud
from assistant.visit.journal import Overtaken
from assistant.visit.reading import JournalError
from assistant.visit.transcript import Transcript

#: What the ears could not judge is asked again.
NOT_HEARD = message("hearing-lost")
#: How often a voice that is gone is tried again, stream seconds.
_SPEAK_AGAIN_S = 2.0
CANNOT_WRITE = message("cannot-write")
CANNOT_HEAR = message("cannot-hear")
CANNOT_SPEAK = message("cannot-speak")
WENT_WRONG = message("went-wrong")
STILL_DEAF = message("still-deaf")
SPEAK_AGAIN = message("speak-again")
BATTERY_LOW = message("battery-low")


def reply(what: Message, about: About) -> Reply:
    """It in words, as something to say."""
    return Reply(catalogue().words(what, None), about, what)


def told(what: Message, state: VisitState) -> tuple[Reply, ...]:
    """The trouble, the caution of the present energy state, and the way on."""
    return (
        reply(what, "remark"),
        Reply(caution_of(state), "caution"),
        reply(message("trouble-held"), "question"),
    )


def reason(error: Exception) -> Message:
    """What to say of an error."""
    if isinstance(error, JournalError):
        return CANNOT_WRITE
    return CANNOT_HEAR if isinstance(error, SoundDeviceError) else WENT_WRONG


class Trouble:
    """Whatever fails in a visit is said, with the energy caution, and the visit held until it is tried ``again``.

    ``held`` is true from a failure until trying again went well; ``state`` gives the present state of the visit.
    Without ``endures`` what fails is raised: a replay has nobody to hear it.
    """

    def __init__(
        self,
        state: Callable[[], VisitState],
        aloud: Aloud,
        out: Transcript,
        again: Callable[[], None],
        endures: bool = True,
    ) -> None:
        self.held = False
        self._endures = endures
        self._state, self._aloud, self._out, self._again = state, aloud, out, again
        self._mute = False
        self._tried_s = 0.0

    def guarded(self, act: Callable[[], None]) -> None:
        """Do it. Only who was overtaken by another program must end: nothing that it says would be true."""
        if not self._endures:
            act()
            return
        try:
            act()
        except Overtaken:
            raise
        except LoudspeakerError as error:
            self._out.remark(str(error))
            self._mute = True
            self.hold(CANNOT_SPEAK)
        except LaddersideError as error:
            self._out.remark(str(error))
            self.hold(reason(error))
        except Exception as error:
            self._out.remark(f"a defect of ours; its details are in {note_defect()}")
            self.hold(reason(error))

    def hold(self, what: Message) -> None:
        """Say what is the matter and what is live, and take nothing more for an answer."""
        self.held = True
        self._aloud.hush()
        self._aloud.forget()
        replies = told(what, self._state())
        for each in replies:
            self._out.remark(each.text)
        try:
            self._aloud.say(replies)
        except LaddersideError as error:  # no voice either: the terminal has it
            self._out.remark(str(error))
            self._mute = True

    def try_again(self) -> None:
        """Ask the same question once more; what fails again is said again."""
        self._aloud.hush()
        self._again()
        self.held = False

    def pass_time(self, now_s: float) -> None:
        """A voice that went away is looked for; when it is back the visit goes on by itself."""
        if not self._mute or now_s < self._tried_s + _SPEAK_AGAIN_S:
            return
        self._tried_s = now_s
        try:
            self._aloud.say((reply(SPEAK_AGAIN, "remark"),))
        except LaddersideError:
            return
        self._mute = False
        self._again()
        self.held = False
