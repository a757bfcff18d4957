"""The answers of a strip: their fields in groups, which of them belong together, and how each was understood."""
