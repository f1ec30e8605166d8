"""The technician of a recorded visit: every way a question can come back, and the clip it must get."""

from collections.abc import Mapping
from pathlib import Path

from assistant.language.meaning import Command, Correction, Finding, Meaning, Quantity, Reading, Readings, Text
from assistant.visit.recording import RecordedVisit, Script
from assistant.visit.responder import CONFIRM, PATIENCE, Responder
from assistant.visit.truth import Answer

WINDINGS: dict[str, object] = {
    "answers": "windings.resistance*",
    "say": "one point two one point two one point nine",
    "readings": [
        {"value": 1.2, "unit": "ohm", "place": "u-v"},
        {"value": 1.2, "unit": "ohm", "place": "v-w"},
        {"value": 1.9, "unit": "ohm", "place": "w-u"},
    ],
}
SENSOR: dict[str, object] = {
    "answers": "sensor.resistance",
    "say": "four point two kilohms",
    "readings": [{"value": 4.8, "unit": "kohm"}],  # a slip of the tongue
    "again": "four point eight kilohms",
    "correction": "correction four point eight kilohms",
    "wait_s": 3,
}
WHY = {"answers": "sensor.resistance", "say": "why", "command": "why"}
FAN = {"answers": "fan.turning", "say": "no", "choice": "no"}
CAUTION = {"answers": "precaution.*", "say": "understood", "choice": "understood", "always": True}


def responder(*turns: Mapping[str, object]) -> Responder:
    script = Script.model_validate({"title": "test", "turns": turns})
    return Responder(RecordedVisit(Path("visit"), script))


def readings(
    *values: float, places: tuple[str | None, ...] = (None,) * 3, quantity: Quantity = "resistance"
) -> Readings:
    items = [
        Reading(quantity=quantity, value=value, spoken_value=value, spoken_unit="ohm", place=place)
        for value, place in zip(values, places, strict=False)
    ]
    return Readings(items=tuple(items))


def said(given: Responder, question: str, understood: Meaning | None = None) -> str:
    clip = given.reply(question, "the question", understood)
    assert clip is not None, given.complaint
    return clip.path.stem if clip.path else ""


def test_turns_come_as_questions_call_for_them_not_in_a_row() -> None:
    given = responder(SENSOR, FAN)
    assert said(given, "fan.turning") == "02-fan-turning-1"
    clip = given.reply("sensor.resistance", "?", Finding(choice="no"))
    assert clip is not None
    assert (clip.path, clip.words, clip.wait_s) == (
        Path("visit/clips/01-sensor-resistance-1.flac"),
        "four point two kilohms",
        3,
    )
    assert given.left == ()


def test_say_it_again_gets_the_next_take_without_the_wait() -> None:
    given = responder(SENSOR, FAN)
    assert said(given, "sensor.resistance") == "01-sensor-resistance-1"
    again = given.reply("sensor.resistance", "Say it again, please.", None)
    assert again is not None
    assert (again.path.stem if again.path else "", again.words, again.wait_s) == (
        "01-sensor-resistance-2",
        "four point eight kilohms",
        0,
    )


def test_confirm_gets_a_true_yes() -> None:
    given = responder(FAN, SENSOR)
    said(given, "fan.turning")
    assert said(given, CONFIRM, Finding(choice="no")) == "yes-1"
    assert said(given, CONFIRM, None) == "yes-2"  # the yes was not understood
    assert said(given, "sensor.resistance", Finding(choice="yes")) == "02-sensor-resistance-1"


def test_confirm_gets_a_true_no_and_then_the_answer_again() -> None:
    given = responder(FAN, SENSOR)
    said(given, "fan.turning")
    assert said(given, CONFIRM, Finding(choice="slowly")) == "no-1"
    assert said(given, "fan.turning", Finding(choice="no")) == "01-fan-turning-2"
    assert said(given, CONFIRM, Finding(choice="no")) == "yes-1"
    assert said(given, "sensor.resistance", Finding(choice="yes")) == "02-sensor-resistance-1"


def test_a_reading_that_went_through_wrong_is_corrected_once_the_assistant_goes_on() -> None:
    given = responder(SENSOR, FAN)
    said(given, "sensor.resistance")
    assert said(given, "fan.turning", readings(4200)) == "01-sensor-resistance-correction-1"
    assert said(given, "fan.turning", None) == "01-sensor-resistance-correction-2"
    assert said(given, CONFIRM, Correction(meaning=readings(4300))) == "no-1"
    assert said(given, "fan.turning", Finding(choice="no")) == "01-sensor-resistance-correction-1"
    assert said(given, "fan.turning", Correction(meaning=readings(4800))) == "02-fan-turning-1"


def test_a_right_reading_is_not_corrected() -> None:
    given = responder(SENSOR, FAN)
    said(given, "sensor.resistance")
    assert said(given, "fan.turning", readings(4800)) == "02-fan-turning-1"


def test_an_interjection_comes_before_the_answer_to_the_same_question() -> None:
    given = responder(WHY, SENSOR)
    assert said(given, "sensor.resistance") == "01-sensor-resistance-1"
    assert said(given, "sensor.resistance", Command(name="why")) == "02-sensor-resistance-1"


def test_an_interjection_taken_for_something_else_is_said_again() -> None:
    given = responder(WHY, SENSOR)
    said(given, "sensor.resistance")
    assert said(given, "sensor.resistance", Command(name="wait")) == "01-sensor-resistance-2"


def test_going_back_uses_the_second_turn_for_the_question() -> None:
    back = {"answers": "fan.turning", "say": "go back", "command": "back"}
    given = responder(SENSOR, back, SENSOR | {"say": "five kilohms", "readings": [{"value": 5, "unit": "kohm"}]}, FAN)
    said(given, "sensor.resistance")
    assert said(given, "fan.turning", readings(4800)) == "02-fan-turning-1"
    assert said(given, "sensor.resistance", Command(name="back")) == "03-sensor-resistance-1"
    assert said(given, "fan.turning", readings(5000)) == "04-fan-turning-1"


def test_some_of_several_readings_understood_is_neither_wrong_nor_all() -> None:
    spare = {
        "answers": "windings.resistance.w-u",
        "say": "w to u one point nine",
        "readings": [{"value": 1.9, "unit": "ohm", "place": "w-u"}],
        "spare": True,
    }
    given = responder(WINDINGS, spare)
    said(given, "windings.resistance")
    part = readings(1.2, 1.2, places=("u-v", "v-w"))
    assert said(given, "windings.resistance.w-u", part) == "02-windings-resistance-w-u-1"
    assert given.left == ()
    without = responder(WINDINGS)
    said(without, "windings.resistance")
    assert said(without, "windings.resistance.w-u", part) == "01-windings-resistance-2"


def test_readings_at_swapped_places_are_wrong() -> None:
    given = responder(WINDINGS)
    said(given, "windings.resistance")
    assert said(given, CONFIRM, readings(1.9, 1.2, 1.2, places=("u-v", "v-w", "w-u"))) == "no-1"
    assert said(given, "windings.resistance", Finding(choice="no")) == "01-windings-resistance-2"
    assert said(given, CONFIRM, readings(1.2, 1.2, 1.9, places=("u-v", "v-w", "w-u"))) == "yes-1"


def test_turns_for_always_answer_any_number_of_times() -> None:
    given = responder(CAUTION, FAN)
    for number in range(2 * PATIENCE):
        assert said(given, f"precaution.p{number}", Finding(choice="understood")) == "01-precaution-1"
    assert said(given, "precaution.p9", None) == "01-precaution-2"
    assert given.left == ("02-fan-turning",)


def test_patience_ends() -> None:
    given = responder(FAN)
    for _ in range(PATIENCE):
        assert given.reply("fan.turning", "Say it again.", None) is not None
    assert given.reply("fan.turning", "Say it again.", None) is None
    assert "fan.turning (“Say it again.”)" in given.complaint


def test_a_question_nobody_can_answer_is_told() -> None:
    given = responder(FAN)
    assert given.reply("roof.colour", "What colour?", None) is None
    assert given.complaint == "The script of visit has no answer (left) to the question roof.colour (“What colour?”)."
    assert given.reply(CONFIRM, "Right?", Finding(choice="no")) is None


def test_a_pause_is_a_clip_without_sound_and_can_be_prolonged() -> None:
    given = responder({"answers": "prove-dead.wait", "wait_s": 90}, FAN)
    clip = given.reply("prove-dead.wait", "Wait.", None)
    assert clip is not None
    assert (clip.path, clip.wait_s) == (None, 90)
    assert given.reply("prove-dead.wait", "Wait.", None) == clip  # it was not long enough
    assert said(given, "fan.turning") == "02-fan-turning-1"


def test_free_words_may_be_spelled_in_two_ways() -> None:
    given = responder({"answers": "visit.site", "say": "bluemill bakery", "text": "blue mill bakery"}, FAN)
    said(given, "visit.site")
    assert said(given, CONFIRM, Text(words="Bluemill bakery")) == "yes-1"
    assert said(given, "fan.turning", Finding(choice="yes")) == "02-fan-turning-1"
    given = responder({"answers": "visit.site", "say": "bluemill bakery", "text": "blue mill bakery"}, FAN)
    said(given, "visit.site")
    assert said(given, CONFIRM, Text(words="the new factory")) == "no-1"


def test_the_record_is_compared_with_the_truth() -> None:
    given = responder(WINDINGS, SENSOR, FAN)
    said(given, "windings.resistance")
    said(given, "sensor.resistance", readings(1.2, 1.2, 1.9))
    said(given, "fan.turning", readings(4800))
    uv, vw, wu = readings(1.2, 1.2, 1.9, places=("u-v", "v-w", "w-u")).items
    (sensor,) = readings(4800).items
    right: list[tuple[str, Answer]] = [
        ("windings.resistance", uv),
        ("windings.resistance", vw),
        ("windings.resistance", wu),
        ("sensor.resistance", sensor),
        ("fan.turning", Finding(choice="no")),
    ]
    assert given.differences(right) == ()
    (wrong,) = readings(42).items
    complaints = given.differences([*right[:2], ("sensor.resistance", wrong), ("fan.turning", Finding(choice="yes"))])
    assert complaints == (
        "sensor.resistance was recorded as 42 ohm, but 4.8 kohm was meant.",
        "fan.turning was recorded as yes, but no was meant.",
        "windings.resistance* was meant to be 1.9 ohm at w-u, which is not in the record.",
    )


def test_a_reading_given_anew_replaces_the_old_in_the_comparison() -> None:
    anew = SENSOR | {"say": "five kilohms", "readings": [{"value": 5, "unit": "kohm"}]}
    given = responder(SENSOR, anew)
    said(given, "sensor.resistance")
    said(given, "sensor.resistance", readings(4800))
    (old,) = readings(4800).items
    (new,) = readings(5000).items
    assert given.differences([("sensor.resistance", new)]) == ()
    assert given.differences([("sensor.resistance", old)]) != ()
