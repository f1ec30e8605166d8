# What passed, in few words: the reading was just read back, "why" and the record tell limits and reasons.
# Each is named like the whole verdict and takes the same values.
passed-arms-apart = The arms are alike, good.
passed-by-general-values = Good, by general values.
passed-charge-added = Right.
passed-charge-weighed = Right.
passed-cycle-judged = { $what ->
    [subcooling] Subcooling
   *[superheat] Superheat
} { $value }, good.
passed-cycle-judged-wet = { $what ->
    [subcooling] Subcooling
   *[superheat] Superheat
} { $value }, good on R thirty-two.
passed-falls-under-load = It falls { $drop }, good.
passed-fan-motor = Supplied, and it turns.
passed-fan-motor-command = Supplied, commanded, and it turns.
passed-judged-reading = Good.
passed-judged-reading-at = Good.
passed-nitrogen-hold = It holds.
passed-pairs-balanced = { $off } apart, balanced.
passed-saturation-judged = Saturates at { $temperature }, good.
passed-sensor-judged = { $due } is due: good.
passed-signal-reads = Pulsing: messages are passing.
passed-signal-source = The source is there.
passed-signal-swings = Pulsing: messages are passing.
passed-split-judged = { $apart } apart, good.
passed-standing-judged = As it should be.
passed-switch-judged = As it should be.
passed-they-differ = { $spread } apart, good.
passed-unbalance = { $unbalance } unbalance, good.
passed-vacuum-decay = It holds.
