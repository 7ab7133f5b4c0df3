"""Rules about ink on paper: how much of it, which inks, built blacks, veils, technical inks."""
