"""An inventory of a PDF: what it is made of and what its pages use, as far as an exchange standard asks."""
