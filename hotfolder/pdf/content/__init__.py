"""The interpreter of content streams: which marks a page paints, in painting order."""
