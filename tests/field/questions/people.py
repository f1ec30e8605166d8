"""What the customer tells, settings, and whether the complaint is gone."""

from tests.field.questions.entry import Customer, Do, Entry, Look, same

TABLE: dict[str, Entry] = {
    "work-done-lately.history": Customer("history", same("never", "after-work", "by-itself")),
    "complaint-mode.mode": Customer("in which mode it fails", same("cooling", "heating")),
    "nothing-settings-look.settings": Look("settings", same("full", "else")),
    "nothing-set-full.now": Do("set it to full cooling or heating", same("yes", "no")),
    "nothing-story.when": Customer(
        "when does it come",
        {
            "always": "always",
            "extreme": "extreme",
            "now and then": "now-and-then",
            "some minutes": "some-minutes",
        },
    ),
    "nothing-normal-signs.normal": Do("compare with the manual's normal signs", same("yes", "no")),
    "nothing-watch-run.shows": Do("watch it for twenty minutes", {"shows": "yes", "not seen": "no"}),
    "nothing-wiggle.loose": Do("wiggle plugs and wires", {"moved": "yes", "firm": "no"}),
    "cooling-in-cold.cold": Look("whether it cools in the cold", {"cold": "yes", "mild": "no"}),
    "nothing-short-runs.short": Do("time its runs at low output", {"short": "yes", "long": "no"}),
    "nothing-load-hours.holds": Do("look at load and hours", same("yes", "no")),
    "commission-complaint-gone.gone": Do("see whether the complaint is gone", same("yes", "no")),
    "commission-complaint-understood.agrees": Do("show the customer", same("yes", "no")),
}
