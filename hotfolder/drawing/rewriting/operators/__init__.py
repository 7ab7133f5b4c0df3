"""The operators that rewriting looks at: their table, and one module a topic."""
