"""What was seen, held against what was declared."""
