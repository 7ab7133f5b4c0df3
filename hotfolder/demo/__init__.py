"""The demonstration: a day in the studio of an invented festival."""
