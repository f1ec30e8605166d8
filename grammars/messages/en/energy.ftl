# The power: locking out, proving dead, waiting, and what is safe.
proved-dead = { $place ->
    [outdoor] Outdoor unit
    [indoor] Indoor unit
    [signal] Signal terminals
    [line] Joint
   *[supply] Outgoing side
} proved dead.
dead-below = Dead is below { $volts }.
still-fed-again = Still fed a second time. Leave it closed, and call an electrician.
wait-for-capacitors = Wait { $span }, or read it.
still-waiting = Still waiting, { $span } more.
wait-decay = By how it falls.
wait-more = Wait { $span } more, or read it.
not-falling = It does not fall. It is still fed, or has no bleed resistor. Find the feed, else bleed it with the resistor tool.
power-live = power is on
power-isolated = locked out, not proved dead
power-dead = proved dead here
safe-live = No. Power is on. Touch nothing inside until it is locked out and proved dead.
safe-not-here = Not yet at { $place ->
    [outdoor] the outdoor unit
    [indoor] the indoor unit
    [signal] the signal terminals
    [line] the joint
   *[supply] the disconnect
}. It is locked out, but nothing was measured dead there.
safe-here = At { $place ->
    [outdoor] the outdoor unit
    [indoor] this indoor unit
    [signal] the signal terminals
    [line] this joint
   *[supply] the disconnect's outgoing side
} it is locked out and was measured dead. Still try your own meter before you touch.
safe-here-zone = At the indoor unit of { $zone } it is locked out and was measured dead. Still try your own meter before you touch.
safe-not-here-zone = Not yet at the indoor unit of { $zone }. It is locked out, but nothing was measured dead there.
safe-circuit = The refrigerant circuit is { $circuit }.
safe-barred = No. Barred: { $hazard }.
count-as-live = Count the unit as live.
hands-off = Hands off now, and stand clear. Count the unit as live.
break-short = It was locked out when the work stopped. See that your lock is still on, and measure before you touch.
break-long-live = You were away long, so the cautions all come again.
break-long = You were away long. Lock, measurement and cautions all again.
place-name = { $place ->
    [outdoor] outdoor unit
    [indoor] indoor unit
    [signal] signal terminals
    [line] joint on the line
   *[supply] supply
}
