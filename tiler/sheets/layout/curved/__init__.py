"""Where pieces with curved lines lie on the sheet, and what of them each page shows; sheet mm."""
