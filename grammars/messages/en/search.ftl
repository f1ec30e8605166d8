# The search and its end.
fault-found = Found: { $suspect }, { $percent } percent sure.
fault-likeliest = Most likely { $suspect }, { $percent } percent. The repair will tell.
nothing-left = No check is left that would tell more now.
remains-first = Most likely { $suspect }, { $percent } percent
remains-then = Then { $suspect }, { $percent } percent
remains-none = The fault is none of those I know.
take-up = Once more, since it decides: { $check }.
would-tell-later = The same checks would tell while the fault shows itself.
would-tell = This was skipped and would tell: { $check }.
on-your-judgement = On your judgement then; the record says so.
