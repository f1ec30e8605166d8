# Leading through a check, its cautions and its verdict.
listening = Ladderside is listening.
left-open = { $more ->
    [0] A visit is open
   *[other] Visits are open, the last one
}: { $site }, { $locked ->
    [0] power is on
   *[other] locked out
}.
goes-on = The visit goes on where it stopped.
goes-on-at = { $site }, { $unit }.
goes-on-at-site = { $site }.
goes-on-found = Last: { $result }
say-understood = Say understood.
understood-first = Say understood first.
remember = Mind: { $list }.
check-barred = Not now: { $check }. Barred by { $bar }.
check-needs-skipped = { $check } needs what was skipped: { $skipped }.
once-more = Once more, to make sure.
verdict-before = Before: { $says }
does-not-fit = That does not fit with this: { $check }. Let us make sure.
put-back-thing = Put back: { $thing }.
# A reading of the same thing that was taken earlier and is far from this one.
read-before = It was { $reading } before.
# Where this unit's profile says that probes go.
pins-signal = Here that is { $first } to { $last }.
pins-signal-live = Here that is { $first } to { $last }, { $low } to { $high } volts.
pins-plug = Here that is { $plug }.
expect-signal = It jumps, between { $low } and { $high } volts, when both ends talk.
heard-right = I heard { $what }. Right?
# Beside noise "yes" and "no" are too short to be told apart.
heard-right-beside-noise = I heard { $what }. Say that's correct, or that's wrong.
