# The job: site, unit, day, plate, ledger, courses, the past, who works.
day-list = { $count ->
    [one] One job today: { $first }.
   *[other] { $count } jobs today. The first is { $first }.
}
job-about = The list says: { $about }
unit-noted = { $unit }.
say-or-spell = Then say the name again, or spell it.
aside-site-near = Do you mean { $words }?
aside-site-new = New site: { $words }. Right? Yes, no, or spell it.
aside-profile-near = Do you mean { $words }?
aside-unit-new = New unit: { $words }. Right? Yes, no, or spell it.
aside-plate-make = From the plate: make and model?
aside-plate-serial = The serial number?
aside-plate-supply = The supply on the plate?
aside-plate-refrigerant = The refrigerant on the plate?
aside-plate-charge-kg = The charge on the plate?
aside-plate-breaker-a = How many amps is its breaker?
aside-plate-pipe-m = How long are the pipes, one way?
aside-plate-lift-m = And the height between the units?
aside-plate-zones = Which indoor units? Say their names.
aside-plate-name = What do people call this unit?
aside-plate-which = What is to be corrected, or all good?
aside-ledger = What should it be?
aside-ledger-words = What should it say?
aside-take-over = Who takes over?
aside-reports = Does it report a fault on display or lamps? Say what, or nothing.
reports-nothing = It reports nothing.
aside-open-visits = { $count ->
    [one] A visit is open here: { $visits }. Go on with it?
   *[other] Open here: { $visits }. Which one goes on, or a new visit?
}
cannot-go-over = { $why }
aside-zone-called = { $words }: which zone is that?
zone-is-called = { $name } is { $zone }, kept.
aside-place = Whose rules apply here: European Union, United States, or another place?
aside-open-point = Look for the fault now, note it as open, or is it mended?
plate-field = { $value }.
known-pipe-m = Pipes { $value } one way, as kept.
known-lift-m = Height between the units { $value }, as kept.
plate-done = That is the plate. It is kept.
ledger-noted = Noted: { $entry }.
ledger-corrected = Corrected: { $entry }.
ledger-struck = Taken out: { $entry }.
ledger-line = { $entry }
ledger-empty = Nothing is noted yet.
entry-note = note, { $text }
entry-photo = photo taken
entry-part = part, { $text }, { $count }
entry-part-from = part, { $text }, { $count }, from { $source }
entry-charged = charged { $mass }
entry-charged-cylinder = charged { $mass } from cylinder { $cylinder }
entry-recovered = recovered { $mass }
entry-recovered-cylinder = recovered { $mass } into cylinder { $cylinder }
entry-travel = travel { $minutes } minutes
entry-clock-on = clock started
entry-clock-off = clock stopped
entry-break = lunch, the clock is stopped
clock-runs = it runs
clock-stands = it is stopped
time-worked = { $minutes } minutes on the clock, { $clock }.
time-travelled = { $minutes } minutes of travel.
balance-none = No refrigerant was charged or recovered.
balance = Charged { $charged }, recovered { $recovered }.
balance-co2 = That is { $tonnes } tonnes of CO2.
cylinder-took = Cylinder { $cylinder } took { $mass }.
cylinder-gave = Cylinder { $cylinder } gave { $mass }.
duty-charge = The whole charge is { $mass }, { $tonnes } tonnes of CO2.
duty-unknown = Refrigerant, charge and place must be known for that. Say take the plate.
duty-article = { $article }.
duty-local = For this place look up the local rule.
duty-eu-check = Next leak check by { $day }.
duty-eu-record = Keep its records for five years.
duty-eu-none = No regular leak check at this charge.
duty-eu-repair = Check the mended leak after a day of running, by { $day } at the latest.
duty-eu-other-gas = This gas is not in that regulation; look up the local rule.
duty-us-release = No knowing release; recover it.
duty-us-none = Below fifteen pounds no leak rate is asked for.
duty-us-leak-rate = Fifteen pounds or more: work out the leak rate at each charge, but for homes and light commerce.
visit-is = This visit: { $kind }.
visit-follows = This visit is { $course }. Finish it first, or begin another visit.
aside-zone-other = Which indoor unit is it?
aside-zone-wrong = { $words }: was only the name wrong, or do you go to another unit?
zone-only-named = It is { $zone }, then; what was found there stays.
zone-put-back-first = First put back what is off at { $zone }. Then name the other unit again.
zone-moved = What was found at { $before } does not count there.
zone-is-that = It is { $zone } already.
zone-only-one = This visit has only one indoor unit.
zone-later = First end or skip this repair; then name the other unit.
serial-has-digits = A serial number has digits. Say it sign by sign, or say skip.
no-answer-here = That does not answer it. Say it another way, or say skip.
plate-one-zone = One indoor unit.
now-zone = Now { $zone }.
made-again = Then once more.
search-inside = We look for it, and come back here.
course-goes-on = Back to the course.
point-open = Noted. { $count ->
    [one] One point is open.
   *[other] { $count } points are open.
}
points-left = Open: { $point }.
no-past = I remember no earlier visit to this unit.
last-time = Last time, { $day }: { $what }.
before-that = Before that, { $day }: { $what }.
past-mended = { $suspect }, { $outcome }
past-fault = { $fault }, { $outcome }
left-barred-then = When it was left: { $hazard }.
left-off-then = It was left with this off: { $things }.
left-circuit-then = Its refrigerant circuit was left { $circuit }.
stayed-open = Left open then: { $point }.
mended-before = Mended { $count } times already: { $suspect }. Look for why it comes back.
roots-weigh = What may be behind that is looked at sooner.
mended-lately = That was mended here on { $day }. Look for why it comes back.
trend-of = { $title }: { $list }.
trend-rises = It rises.
trend-falls = It falls.
trend-none = I remember no earlier reading of { $title }.
trend-nothing = Nothing was measured yet that has a trend.
trend = Before: { $list }.
taken-over = { $name } goes on from here.
own-lock = Hang your own lock, and measure again before you touch. You will hear the cautions again.
locked-out-now = It was locked out.
place-dead = { $place ->
    [outdoor] The outdoor unit
    [indoor] An indoor unit
    [signal] The signal terminals
    [line] The joint
   *[supply] The disconnect's outgoing side
} was measured dead then.
hold-for = Now wait { $span }. It counts only after that.
hold-more = { $span } more.
hold-early = That is too early: it counts after the wait. Say ready then, or skip.
steps-left = Next: { $check }. { $count ->
    [0] It is the last step.
    [one] One more after it.
   *[other] { $count } more after it.
}
which-unit = Which unit: { $units }, or another one?
reason-course = It is the next step of the visit.
reason-where-to-mend = It shows where to mend.
command-what-noted = what is noted
command-strike-entry = take the last note out
command-last-time = last time
command-plate = take the plate
command-duties = refrigerant and duties
command-take-over = a colleague takes over
command-other-zone = another indoor unit
command-job-repair = this is a repair
command-job-commissioning = this is a commissioning
command-job-maintenance = this is a maintenance
command-job-leak-check = this is a leak check
command-job-return = this is a return
command-job-removal = this is a removal
reason-taken-over = { $name } took over and hangs a lock of their own.
outcome-points = { $count ->
    [one] one point open
   *[other] { $count } points open
}
outcome-not-done = { $count ->
    [one] one step not done
   *[other] { $count } steps not done
}
