"""The table of what hands may come to stands in the guide as the code has it, and holds what must never change."""

from pathlib import Path

from assistant.dialogue.allowed import BEGIN, END, table, touches_in
from assistant.visit.session import Knowledgeable

GUIDE = Path(__file__).parents[2] / "DEVELOPERS.md"


def test_the_guide_holds_the_table_of_the_code(context: Knowledgeable) -> None:
    written = GUIDE.read_text("utf-8").split(BEGIN)[1].split(END)[0].strip()
    assert written == table(context.library), "python -m assistant.dialogue.allowed"


def test_no_hand_on_anything_live() -> None:
    handled = {"board", "terminals", "conductor-ends", "plug", "motor"}
    assert not handled & set(touches_in("live"))
    assert not handled & set(touches_in("isolated"))
    assert handled <= set(touches_in("proved-dead"))
    assert "live-probe" in touches_in("live")
    assert "live-probe" not in touches_in("proved-dead")
    assert not {"moving-parts", "flame"} & set(touches_in("live"))
