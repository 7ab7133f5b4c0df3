"""For each requirement, a file that breaks only it: a module for each topic."""
