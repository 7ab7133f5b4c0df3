"""The inventory of a PDF, made of its objects and of what the content of its pages uses."""
