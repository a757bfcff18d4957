"""What a person types: lengths, counts, words that are nearly right, and words that the shell completes."""
