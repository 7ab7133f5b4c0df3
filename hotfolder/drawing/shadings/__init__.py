"""Gradients and meshes in the colours of a drawing."""
