"""Temperature sensors."""

from tests.field.questions.entry import Do, Entry, Look, Measure, same

_ONE_BY_ONE = ("pipe", "room", "outdoor", "coil", "discharge", "suction")

TABLE: dict[str, Entry] = {
    "room-sensor-surroundings.place": Look("place of the room sensor", same("free", "sun", "draught", "covered")),
    "sensor-shown-values.liar": Look(
        "sensor values on the display against a thermometer",
        same("none", "room", "pipe", "outdoor", "discharge", "suction", "cannot"),
    ),
    "pipe-sensor-place.seat": Look("pipe sensor in its pocket", same("seated", "out")),
    "discharge-sensor-place.seat": Look("discharge sensor on its pipe", {"seated": "seated", "out": "off"}),
    "sensor-plugs-indoor.plugs": Look("indoor sensor plugs", same("firm", "bad")),
    "sensor-plugs-outdoor.plugs": Look("outdoor sensor plugs", same("firm", "bad")),
    "indoor-sensors-sweep.resistances": Measure("resistance", "indoor sensors"),
    "outdoor-sensors-sweep.liar": Look(
        "which outdoor sensor is open or shorted", same("none", "outdoor", "coil", "discharge", "suction")
    ),
    **{f"{name}-sensor-resistance.temperature": Measure("temperature", f"{name} sensor") for name in _ONE_BY_ONE},
    **{f"{name}-sensor-resistance.resistance": Measure("resistance", f"{name} sensor") for name in _ONE_BY_ONE},
    "sensor-run-after.run": Do("ten minutes without an indication", same("yes", "no")),
}
