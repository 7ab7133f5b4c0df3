"""Pictures brought to another grid of pixels without losing ink."""
