# The repair, its proof, and the end of the visit.
repair-barred = The repair must wait. Barred by { $bar }.
repair-needs-skipped = The repair needs what was skipped: { $skipped }.
say-repair-done = Say done, or not possible.
proof-failed = The proof failed, so the search goes on with what was learnt.
proof-made = Repair proved.
proof-missing = The repair is not proved; the record says so.
left-barred = Barred: { $hazard }.
left-not-proved = Left isolated and locked, not proved dead. Your lock and tag stay yours to remove.
left-locked = Left isolated and locked, and to be proved dead anew.
left-proved-dead = Left isolated and locked, proved dead where it was measured. Your lock and tag stay yours to remove.
left-not-locked = Left without a lock. Keep everyone from switching it on.
left-lock-may-hang = A lock may still hang there. Whose it is takes it off.
left-off = Left off: { $things }.
left-circuit = The refrigerant circuit is left { $circuit }.
circuit = { $holds ->
    [charged] charged
    [recovered] recovered
    [opened] opened
    [purged] purged
    [under-nitrogen] under nitrogen
   *[evacuated] evacuated
}
one-or-other = { $first } or { $last }
course-closed = Visit closed: { $outcome }. The record is written.
visit-closed = Visit closed: { $outcome ->
    [mended] mended
    [repaired-not-proved] repaired, not proved
    [nothing-found] nothing found
   *[not-mended] not mended
}. The record is written.
