"""Meshes of shadings: the bits of their vertices and patches, and where a mesh lies."""
