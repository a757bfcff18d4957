"""Pages to read: the cutting chart, the result of a proof, the readings of a test round; page mm."""
