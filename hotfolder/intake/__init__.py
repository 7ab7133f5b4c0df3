"""From a file in an inbox to a claimed job."""
