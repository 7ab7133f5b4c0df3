"""What content names, rewritten: forms, images, patterns, gradients, masks, fonts."""
