"""Printing conditions: the profiles that come with the program, and how they are found and made."""
