# Questions of a visit.
ask-site = Which site is this?
ask-profile = Make and model of the unit, or no profile?
ask-supply = General values then. What supply does it have?
ask-refrigerant = Which refrigerant is on the nameplate?
ask-zone = Which indoor unit is in trouble?
ask-indication = What does the unit show or do?
ask-unsolved = Name a check, say what else it does, or say finish.
ask-unsolved-likeliest = Say repair it anyway, name a check, say what else it does, or say finish.
ask-repair-note = What did you change?
ask-customer-note = A note for the customer, or no note?
ask-emergency = Did I hear that right? Yes or no.
ask-finish = Finish the visit and write the record? Yes or no.
say-ready = Say ready when the time is up.
and-place = And { $place }?
# Answers read back.
reading = { $value } { $unit }
reading-open-line = open line
reading-no-reading = no reading
reading-unstable = not steady
reading-jumping = jumping between { $low } and { $high } { $unit }
at-place = { $place }: { $reading }
read-back = { $answer }
listed = { $first }, { $last }
matter = { LOWERED($check) }, { $answer }
answer-for = { $answer } for { LOWERED($check) }
two-sentences = { $first }. { $then }
noted = Noted: { $words }
noted-site = Site: { $site }
no-profile = No profile.
unit = { $make } { $model }
shown = { $shown }: { $means }
repair-noted = Repair noted.
repair-not-done = Not repaired today; the record says so.
seconds = { $count } seconds
minutes = { $count ->
    [one] 1 minute
   *[other] { $count } minutes
}
minutes-and-a-half = { $count } and a half minutes
# What cannot be used, and corrections.
say-digit-by-digit = It is loud here. Say it digit by digit, and its unit.
say-again = Say it again, please.
doubted = { $doubt }
still-no-use = I still cannot use that. Come closer, say it another way, or say { $way }.
open-line-cannot-be = An open line cannot be the answer here. Measure again, please.
reading-cannot-be = I heard { $reading }, which this place cannot give. Say it again, or measure again.
right-or-wrong = Right or wrong? Say yes or no.
yes-or-no = Yes or no?
first-that = First answer this.
not-recorded = Not recorded. Say it again, please.
which-place = Which place was that?
nothing-to-correct = There is nothing to correct yet.
correct-to-what = The last answer was { $answer }. What should it be?
say-correction = The last answer was { $answer }. Say correction and the new one.
corrected = Corrected: { $answer }
a-correction = correction, { $what }
a-correction-of-the-last = a correction of the last answer
