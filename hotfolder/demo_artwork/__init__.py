"""The pieces of artwork that the demonstration drops, good and faulty, all made by code and all invented."""
