"""The report for people: one page with its marked pictures and measurements."""
