"""Child processes with limits: what they are asked, how they are watched, what they leave."""
