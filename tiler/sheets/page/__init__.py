"""What stands on a page besides the pieces: frame, code, title, squares, ruler lines; page mm."""
