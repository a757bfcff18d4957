"""Pieces become a PDF: layout, marks, cover, canvas, catalog and document."""
