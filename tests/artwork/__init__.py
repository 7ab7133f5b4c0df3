"""Small builders that make `Artwork` facts by hand, for tests of what judges or shows them."""
