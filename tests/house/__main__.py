"""Prints the tables of rooms and packages for DEVELOPERS.md."""

import sys

from tests.house.rooms import packages, table

sys.stdout.write(f"{table()}\n{packages()}")
