"""A pattern release: every paper, size and list in one folder, joined to the pattern's own PDF.

Everything is looked at before anything is written. Each file is drawn and proved in a
process of its own (the fonts of the drawing library are global, so threads will not do), in
a folder beside the target that takes its place by renaming. List and zip have fixed times,
so the same job gives the same bytes. Nothing is replaced but what the earlier list names
with the checksum that it has; what a killed run leaves, the next one sets right.
"""
