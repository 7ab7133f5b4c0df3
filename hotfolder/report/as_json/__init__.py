"""The report for programs."""
