"""Rules about colour: spaces, spot inks, output intent, black text, overprint."""
