"""A job's files into the outbox or needs-fixing: their names, their reports, all of them or none."""
