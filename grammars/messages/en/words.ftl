# Words that could mean several things, facts told unasked, and what cannot be answered.
either = Did you mean { $first }, or { $last }?
either-or-both = Did you mean { $first }, { $last }, or both?
which-measure = { $first }, or { $last }?
not-near = I do not know that yet. { $answers }
still-not-near = I still do not know that: say it another way, or say { $way }.
told-noted = Noted: { $fact }.
told-voltage = If that is there now, the lock does not hold. Count it as live.
told-outside = Not noted, it cannot be: { $fact }.
told-which-unit = Not noted: { $fact }. Say it again with its unit.
set-aside = All right, left out.
cannot-needed = This step is needed. Say skip to leave it, and what hangs on it.
cannot-here = Then say what you do see.
cannot-dont-know = you do not know
cannot-cant-see = you cannot see it
cannot-cant-reach = you cannot reach it
cannot-no-meter = no meter for that
cannot-not-now = not now
cannot-not-there = there is none
back-which-pins = which pins
back-where-is-it = where it is
back-expected-value = what it should read
back-what-is-normal = what is normal
back-what-is-that = what that is
back-how-sure = how sure I am
back-what-did-i-say = what you said before
back-ruled-out = what is ruled out
back-how-long = how long it takes
back-how-do-i = how to do it
back-which-tool = which tool
back-is-power-needed = whether it needs power
nothing-to-acknowledge = Nothing waits for that now.
neither-then = Not that, then.
first-or-second = { $count ->
    [2] Say the first, the second, or neither.
   *[3] Say the first, the second, the third, or none of them.
  }
no-way-on = I find no safe way on from here. Keep it locked out.
