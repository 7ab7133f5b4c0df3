"""Faults planted one at a time in sound pages of many programs, and look-alikes that are no faults."""
