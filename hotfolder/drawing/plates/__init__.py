"""Plates: pages and pictures drawn as the inks that they lay on paper."""
