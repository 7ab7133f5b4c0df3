"""Watched folders for print artwork: measure, judge, deliver, prove."""

__version__ = "0.1.0"
