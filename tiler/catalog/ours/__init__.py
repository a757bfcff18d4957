"""The catalog of a file of ours: preferences, labels, outline, declaration, and a layer for each size."""
