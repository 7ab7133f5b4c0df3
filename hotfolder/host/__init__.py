"""What the machine around is told: the log, the service manager, the desktop."""
