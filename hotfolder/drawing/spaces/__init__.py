"""Colour spaces as plates need them: which inks their colours lay, and how a drawing shows them."""
