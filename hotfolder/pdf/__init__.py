"""Reads PDF: its objects, its document facts, its colours, fonts, pictures and content."""
