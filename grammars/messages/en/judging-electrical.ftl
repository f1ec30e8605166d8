# Motors.
meter-too-coarse = This meter is too coarse for windings of { $reading }.
take-a-low-ohm-meter = This meter is good to { $now } a reading; windings of { $mean } need one good to { BARE($enough) }: take a low-ohm or four-wire meter.
pairs-read = { $places } reads { $outcome ->
    [open] open: open
   *[grounded] nearly nothing: { $outcome }
}
winding-reads = The winding at { $terminals } reads { $outcome ->
    [open] open: open
   *[grounded] nearly nothing: { $outcome }
}
all-pairs-low = All pairs read under { $share } of { $due }: shorted.
pair-unequal = { $place } is { $reading }, { $off } { $side ->
    [above] above
   *[below] below
} the mean; limit { BARE($limit) }: unequal.
pairs-balanced = The three pairs differ { $off } from their mean, limit { BARE($limit) }: balanced.
ground-open = An open line to ground: the insulation is good.
cold-compressor = { $reading } on a cold compressor says little: liquid refrigerant reads low too.
warm-the-shell = Warm the shell for some hours, then measure again.
fan-motor = { $supply }. { $outcome ->
    [no-supply] The motor lacks its supply.
    [unknown-supply] Enough for a low-voltage motor: see its label.
    [no-command] The supply is there but no command.
    [not-turning] Supply and command are there and it does not turn.
   *[ok] It has its supply and turns.
}
fan-motor-command = { $supply } and { $command }. { $outcome ->
    [no-supply] The motor lacks its supply.
    [unknown-supply] Enough for a low-voltage motor: see its label.
    [no-command] The supply is there but no command.
    [not-turning] Supply and command are there and it does not turn.
   *[ok] It has its supply and turns.
}
measure-at-the-plug = Measure at the motor's plug again.
read-the-label = Read the motor's label for its voltage.
# Parts by meter, and the signal line.
one-arm = one arm
arm-shorted = { $place } reads { $reading }: shorted.
arm-open = { $place } does not conduct while others do: open.
no-arm-conducts = No arm conducts. Wide-gap parts read so; look at the probes, then at the module's papers.
arms-read = The arms read { BARE($low) } to { $high }
arms-under-a-diode = { $ends }, alike but under one diode: something conducts beside them.
arms-in-series = { $ends }, alike: two diodes in series, or wide-gap parts. Symmetric.
arms-apart = { $ends }, { BARE($spread) } apart is allowed: { $outcome }
capacitor-open = { $reading } where { $printed } are printed: open.
capacitor-more = { $reading }, more than printed: another capacitor lies beside it, or it leaks.
coil-open = An open line: the coil is open.
no-continuity = An open line: no continuity.
no-continuity-at = An open line at { $place }: no continuity.
signal-source = { $outcome ->
    [ok] { $reading }: the source is there.
    [low] { $reading }, where at least { $least } are due: no source.
   *[unknown-line] { $reading }: only the maker's figure tells whether that is enough.
}
signal-swings = { BARE($low) } to { $high }, { $outcome ->
    [pulsing] pulsing: messages are passing
    [steady] steady: nobody is talking
   *[absent] absent: nothing is on the line
}
signal-reads = { $reading }, { $outcome ->
    [pulsing] pulsing: messages are passing
    [steady] steady: nobody is talking
   *[absent] absent: nothing is on the line
}
watch-the-display = Watch the display for ten seconds.
# Sensors.
temperature-outside-curve = That temperature is outside the sensor's curve.
sensor-off = { $reading } where { $due } is due: drifted, { $off } off
sensor-judged = { $outcome ->
    [open] The sensor is open: { $reading } where { $due } is due.
    [shorted] The sensor is shorted: { $reading } where { $due } is due.
    [drifted] { $reading } where { $due } is due: drifted.
   *[ok] { $reading } where { $due } is due: the sensor is good.
}
no-sensor-off = None of them is open or shorted.
one-sensor-off = The { $place } sensor reads { $reading }: { $how }
# The supply and the bus behind it.
leg-missing = Only { $reading }: a leg is missing.
leg-missing-at = Only { $reading } at { $places }: a leg is missing.
legs-missing = Only one pair is whole: leg { $legs } is missing.
unbalance = { $unbalance } unbalance between the legs, limit { BARE($limit) }: { $outcome }
bus-absent = Only { $reading } on the bus where { $peak } are due.
bus-resting = { $reading } on the bus of a unit at rest says little: some cut it off.
call-and-measure = Call for cooling or heating, wait a minute, and measure again.
pulled-down = { $plugged } plugged, { $unplugged } unplugged: { $outcome ->
    [never-low] it is not pulled down
    [recovers] the part that was unplugged pulls it down
   *[stays-low] the fault lies before the plug
}
it-works = It works.
supplied = { $voltage }, { $low } is wanted: { $outcome ->
    [failed] supplied, yet not working
   *[unsupplied] not supplied
}
breaker-held = The breaker held.
breaker-tripped = It tripped at { $current }, rated { $rated }: { $outcome ->
    [weak] it is weak
    [overload] too much is drawn
    [held] it holds
   *[ground-fault] a leak to ground may have tripped it
}
