"""A PDF becomes strokes and labels in millimetres."""
