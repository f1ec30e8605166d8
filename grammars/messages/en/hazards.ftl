# Hazards that latch, and emergencies.
barred = { $hazard }
hazard-cleared = Cleared: { $hazard }.
hazard-not-mended = It passes now, but nothing was mended. { $hazard } still bars.
hazard-measure-again = Corrected, but it still bars until it is measured again: { $hazard }.
visit-ends-here = Nothing more is done in this visit.
still-barred = Still barred: { $hazard }.
must-be-off = { $thing }, which must be off first
circuit-not-charged = the circuit is { $circuit ->
    [evacuated] in vacuum
    [under-nitrogen] under nitrogen
   *[other] not charged
}
circuit-not-so = the circuit is { $circuit }, and must be { $wanted }
emergency-held = Say carry on when everybody is safe.
emergency-heard-right = Did I hear that right: { $hazard }? Yes or no.
emergency-misheard = Good. Then we go on.
