"""The pictures that a report shows: pages, plates, coverage, edges."""
