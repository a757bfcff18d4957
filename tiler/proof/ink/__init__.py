"""The ink of rendered pages: whether a line or a word can be seen, and where; pixels and mm."""
