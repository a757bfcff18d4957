"""What may go wrong, whether it goes over the head, how sizes follow each other; in sentences."""
