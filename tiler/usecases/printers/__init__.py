"""What is known of a printer, and what its error does to a piece."""
