"""What the rule about trim sizes knows: its settings, pages with their sizes, what a wrong size is."""
