"""A PDF read page by page: boxes, strokes, texts and curves; mm, y up."""
