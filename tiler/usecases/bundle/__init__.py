"""A pattern release: every paper, size and list in one folder, joined to the pattern's own PDF."""
