"""Requirements on colours: which spaces a level takes, and how they are put down."""
