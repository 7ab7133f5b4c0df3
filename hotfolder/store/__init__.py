"""The only code that moves, writes and syncs files of a studio."""
