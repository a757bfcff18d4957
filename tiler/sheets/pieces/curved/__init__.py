"""The words of pieces with curved lines: the room in them and round them, and what stands there; piece mm."""
