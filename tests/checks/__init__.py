"""Tests of the checks: one file a check."""
