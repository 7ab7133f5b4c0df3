"""What several checks need: settings, one finding for many places, facts that are not known."""
