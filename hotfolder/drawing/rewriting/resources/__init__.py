"""Named resources, rewritten: forms, images, patterns, shadings, soft masks, Type 3 fonts."""
