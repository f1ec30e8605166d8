# Requests to the assistant itself.
reason-to-go-on = It is needed to go on.
voice-faster = Faster.
voice-quieter = Quieter.
voice-at-its-end = { $way ->
    [slower] That is as slow as I speak.
    [faster] That is as fast as I speak.
    [louder] That is as loud as I get. Turn up the loudspeaker.
   *[quieter] That is as quiet as I get. Turn down the loudspeaker.
}
at-check = at the check { $check }
at-step = at the step { $step }
where-am-i = You are { $at }; { $done ->
    [one] one check
   *[other] { $done } checks
} done; { $power }.
proofs-left = { $count ->
    [one] One proof check is left.
   *[other] { $count } proof checks are left.
}
left-first = Most likely now: { $suspect }.
left-then = Then: { $suspect }.
all-open = Everything is still open.
skipped = Skipped.
skipped-with-caution = A caution is not skipped, so the step is.
skipped-proof = Skipped. Without the proof nothing is touched there.
# Common practice, no source: what the mains of a building usually are.
supply-of-building = Then what the building has: two forty in a home, two oh eight in a shop, two thirty in Europe.
step-needed = This step is needed. You can say finish, or go back.
at-the-beginning = This is the beginning.
back-one-step = Back one step.
holding = Waiting. Say carry on when you are back.
help-commands = You can say why, repeat, slower, louder, skip, go back, correction, wait, or is it safe.
help-reading = You can answer with a number in { $unit }, or no reading.
help-reading-or = You can answer with a number in { $unit }, or { $answer }.
help-some = You can answer, for example, { $answers }.
help-answers = You can answer { $answers } or { $last }.
help-one = You can answer { $answer }.
no-such-check = I know no check of that on this unit. Say check and the part.
how-to-calculate = Name the sum and its readings, as in: superheat, suction one hundred twenty psi, line fifty.
sum-refused = { $why }
sum = { $name }: { $result }.
sum-at-sea-level = That is for sea level. Add the altitude in feet where the site is higher.
# The requests by name, where one is asked back or offered.
command-the = { $command } the { $what }
command-acknowledged = understood
command-power-back = the power may be back
command-calculate = calculate
command-check = check
command-correction = correction
command-done = done
command-faster = faster
command-finish = finish
command-go-back = go back
command-help = help
command-is-it-safe = is it safe
command-louder = louder
command-new-indication = something else
command-quieter = quieter
command-ready = ready
command-repeat = repeat
command-resume = carry on
command-skip = skip
command-slower = slower
command-stop = stop
command-wait = wait
command-what-can-i-say = what can I say
command-what-is-left = what is left
command-where-am-i = where am I
command-why = why
command-trend = trend
