"""An SVG drawing read as curves, or where it is plain as groups of lines and words; mm, y up."""
