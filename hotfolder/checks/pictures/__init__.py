"""Rules about pictures: their resolution, their weight, their compression."""
