"""Rules about size and the cut: trim, bleed, margins, boxes, marks, pages."""
