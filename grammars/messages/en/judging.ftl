# Any judged reading: where it lies beside its limits, and what is missing.
an-open-line = an open line
no-number = no number
judged-reading = { $reading }, { $beside }
judged-reading-at = { $reading } { $place }, { $beside }
beside-low = { $sure ->
    [no] about at
   *[yes] below
} the lower limit of { $limit }
beside-high = { $sure ->
    [no] about at
   *[yes] above
} the limit of { $limit }
beside-near = too near the limit of { $limit } to be sure
beside-between = good; limits { BARE($low) } to { $high }
beside-least = good; at least { $low } is wanted
beside-most = good; at most { $high } is allowed
by-general-values = { $says }, by general values
meter-open = The meter shows an open line.
meter-open-good = The meter shows an open line, good.
nothing-there = { $reading }, so nothing is there; { $low } is wanted
numbers-do-not-fit = Those numbers cannot be right together.
measure-once-more = Measure once more.
not-answered = That was not answered.
look-once-more = Look once more.
no-number-to-judge = There was no number to judge.
take-again = Take the { $what ->
    [current] current
    [arms] arms
    [pressure] pressure
    [pressure-and-contact] pressure and the contact
    [pressures-and-temperatures] pressures and temperatures
    [readings] readings
    [resistance] resistance
    [sensors] sensors
    [temperature] temperature
    [temperature-and-pressure] temperature and pressure
    [three-pairs] three pairs
    [three-vacuum-readings] three vacuum readings
    [two-readings] two readings
    [two-temperatures] two temperatures
    [two-voltages] two voltages
    [voltage] voltage
    [weight-and-length] weight and length
   *[reading] reading
} again with the probes held still.
no-figure = I have no figure for { $figure }, so I cannot judge it.
look-up = Look up { $figure } in the unit's manual.
figure = { $what ->
    [added-charge] the added charge
    [breaker-rating] the breaker's rating
    [bus-voltage] the bus voltage
    [capacitor] the capacitor
    [charge] the charge
    [coil] the coil's resistance
    [difference] the difference
    [longest-line] the longest line
    [nameplate-current] the nameplate's current
    [pressure-switch] the pressure switch
    [rated] its rated value
    [refrigerant] the refrigerant
    [saturation] the saturation temperature
    [sensor-curve] the { $sensor } sensor's curve
    [subcooling] the subcooling
    [superheat] the superheat
    [supply-band] the supply's band
    [temperature-difference] the temperature difference
   *[limit] its limit
}
on-the-limit = The reading sits on the limit itself; no meter can settle it, so repeat it under other conditions.
better-reading = A reading good to { $good } or better (now { BARE($now) }) would settle it.
falls-under-load = It falls { $drop } under load; { BARE($limit) } is allowed.
every-place-open = Every place shows an open line.
one-place-open = One place shows an open line, the other does not.
they-differ = They differ by { $spread }; { $limit } is allowed.
line-part = { $what } { $reading } of { BARE($limit) }
lines = { $parts }: { $outcome ->
    [beyond] too much
   *[inside] allowed
}
# No voltage.
still-fed = { $volts }: still fed.
still-charged = { $volts }: still charged.
no-voltage-read = no voltage read
nothing-shown = Then nothing was shown. Measure again with a good meter.
absent = { $what ->
    [mains] No mains.
    [charge] No charge.
   *[both] No mains and no charge.
}
