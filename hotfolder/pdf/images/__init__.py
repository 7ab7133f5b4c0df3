"""Images: what their dictionaries and their data say."""
