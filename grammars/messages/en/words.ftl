# Words that could mean several things, facts told unasked, and what cannot be answered.
either = Did you mean { $first }, or { $last }?
not-near = I do not know that yet. { $answers }
told-noted = Noted: { $fact }.
told-outside = Not noted, it cannot be: { $fact }.
set-aside = All right, left out.
cannot-needed = This step is needed. Say skip to leave it, and what hangs on it.
cannot-here = Then say what you do see.
cannot-dont-know = you do not know
cannot-cant-see = you cannot see it
cannot-cant-reach = you cannot reach it
cannot-no-meter = no meter for that
cannot-not-now = not now
cannot-not-there = there is none
a-question-back = a question to me
neither-then = Not that, then.
first-or-second = Say the first, the second, or neither.
no-way-on = I find no safe way on from here. Keep it locked out.
