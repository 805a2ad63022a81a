"""What takes how long: one module a subject, run by ``make bench``. Times are printed, never asserted."""
