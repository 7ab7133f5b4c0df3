"""What the parts of the program hand to each other: frozen data, without any work of its own."""
