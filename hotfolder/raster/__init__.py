"""Picture files: their headers, their pixels, and how far reading them goes."""
