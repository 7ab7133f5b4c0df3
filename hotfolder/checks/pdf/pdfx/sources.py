"""Sources that many requirements name."""

from typing import Final

# A series of articles, which follows the order of the standards.
SERIES: Final = "implementers' notes on PDF/X-1a and X-3 (Antenna House, 2006)"
