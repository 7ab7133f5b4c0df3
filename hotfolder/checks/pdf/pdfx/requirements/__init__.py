"""The requirements, a module for each topic."""
