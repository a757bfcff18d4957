"""An SVG drawing read as curves; mm, y up."""
