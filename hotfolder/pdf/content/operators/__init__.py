"""The operators of content streams: their table, and one module a topic."""
