"""Colour spaces and the functions that they are made of."""
