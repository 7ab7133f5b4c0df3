"""The audit log: chained records, whether they hold, and which job came before."""
