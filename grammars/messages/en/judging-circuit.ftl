# The refrigerant circuit: charge, nitrogen, vacuum, superheat and its kin.
charge-weighed = { $mass } where { $due } are due: { $outcome ->
    [low] too little
    [high] too much
   *[ok] right
}
charge-added = { $mass } added where { $due } were due: { $outcome ->
    [low] too little
    [high] too much
   *[ok] right
}
nitrogen-hold = Corrected for the temperature, it { $moved ->
    [rose] rose
   *[fell] fell
} { $lost }; { $allowed } allowed: { $outcome ->
    [holds] it holds
    [falls] it falls
   *[rises] is the cylinder still open?
}
leave-it-longer = Leave it longer and read again.
vacuum-decay = { BARE($first) }, { BARE($half) }, then { $last }: { $outcome ->
    [not-deep] not deep enough yet
    [moisture] the rise levels off, which is moisture
    [leak] it goes on rising, which is a leak
   *[holds] it holds
}
leave-it-valved-off = Leave it longer with the pump valved off.
band-between = { BARE($low) } to { BARE($high) } is right
band-least = at least { BARE($low) }
band-most = at most { BARE($high) }
cycle-judged = { $what ->
    [subcooling] Subcooling
   *[superheat] Superheat
} is { $value }; { $band }: { $outcome }
cycle-judged-wet = { $what ->
    [subcooling] Subcooling
   *[superheat] Superheat
} is { $value }; { $band }: { $outcome }, however little on R thirty-two
pressure-outside-table = That pressure is outside the refrigerant's table.
standing-judged = { $pressure } at { $temperature }: { $side ->
    [over] { $off } over
    [under] { $off } under
   *[ok] as it should be
}; { BARE($limit) } allowed: { $outcome }
saturation-judged = { $pressure } saturates at { $temperature }; { $band }: { $outcome }
split-judged = { $apart } { $way ->
    [wrong] the wrong way round
   *[right] apart
}; { $band }: { $outcome }
switch-judged = The contact is { $contact } at { $pressure }: { $outcome ->
    [stuck-open] it should be closed
    [stuck-closed] it should be open
   *[ok] as it should be
}
