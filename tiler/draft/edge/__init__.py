"""The edge that a strip is sewn to: measured, drawn or described; mm along its seam line."""
