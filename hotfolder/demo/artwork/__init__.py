"""The pieces that the demonstration drops, made by code."""
