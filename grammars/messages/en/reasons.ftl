# Why a step comes next, a fault is named or the power counts as it does.
in-words = { $words }
needed-for = { $check } needs it.
reason-opening = It is asked first, as the answer decides where to look.
reason-asked = You asked for it.
reason-taken-up = It could not be answered before, and it decides now.
reason-before-power = It must be measured before power returns.
reason-closing = The visit does not end before.
reason-repair = The repair needs it.
reason-proof = It shows that the fault is gone.
reason-emergency = The work stopped for an emergency.
reason-nothing-else = The checks leave nothing else.
reason-likeliest = The technician took the likeliest suspect; the checks gave it { $percent } percent.
because-check = { $check }: { $outcome }
because-power-back = the power was said to be back
because-unwatched = nobody watched the lock meanwhile
because-voltage-told = a voltage was told of with the lock on
because-lost = part of the journal of this visit could not be read
# Why this check.
why = Most likely { $suspect }; this takes { $takes } and { $settles }.
why-short = This takes { $takes } and { $settles }.
why-no-suspects = This unit has no suspects left; this takes { $takes }.
a-minute-or-so = { $count ->
    [one] a minute
   *[other] { $count } minutes
}
why-must-come-before = must come before { LOWERED($check) }
why-confirms = would confirm it
why-makes-sure = makes sure of an answer that decides much
why-tells-most = tells most for its time
why-could-rule-out = could rule it out
why-same-part = would tell it from another fault of the same part
why-would-rule-out = would rule out { WITH_THE($component) }
